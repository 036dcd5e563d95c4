"""What is asked over many bars at once: sweeps, partners, the way back from the bar wanted.

Imports hardening and below; what it answers stands in contract.
"""
