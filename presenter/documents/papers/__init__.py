"""The papers around the day: clock times, kit and shopping, risks, allergens, class, home and script.

In: a worked lesson and its cautions. Out: words and page text for the templates; nothing of the brewing is worked here.
"""
