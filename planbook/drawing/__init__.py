"""Drawings as neutral marks in millimetres, made from a finished build."""
