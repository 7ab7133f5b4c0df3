"""How long measuring takes, in CPU time, against other people's programs: `python -m tests.bench`.

Never a test of its own: the figures depend on the machine, and a busy one would fail them.
"""
