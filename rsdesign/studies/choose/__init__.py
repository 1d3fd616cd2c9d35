"""What to buy: every combination of the parts for sale, by cost a year, minutes to act, water and work.

``study`` is the study itself, ``offers`` what is for sale, ``rsdesign.choose`` its frame.
"""
