"""The rules a procedure is replayed under, one function a rule, grouped by what they look at.

A rule sees the state before an act and yields problems; it never changes anything. Which verb obeys which rules stands
in ``physical/verbs.py``; what each code means and how it is mended stands in ``checks/replay.py``.
"""
