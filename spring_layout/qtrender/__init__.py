"""Plays drawings onto Qt's painter; QtGui only."""
