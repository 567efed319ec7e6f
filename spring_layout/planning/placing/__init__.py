"""Placing springs: suggest layouts, and space springs evenly.

``propose.propose`` suggests layouts of one spring size; ``even.even_out`` and
``even.even_out_steps`` space the springs of a deck evenly, with ``keep.Constraints``.
"""
