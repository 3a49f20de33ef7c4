"""Reads the finished timeline and says what is wrong or doubtful; one rule per file; nothing is changed."""

from planbook.review.registry import kinds, review, rules

__all__ = ["kinds", "review", "rules"]
