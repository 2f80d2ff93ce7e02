"""Printed and machine-readable reports of surveys (their own issue to come)."""
