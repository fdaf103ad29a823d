"""The tables of a run, as the page prints them."""

import csv
import decimal


def rows_of(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def dollars(amount):
    """Halves go up."""
    whole = decimal.Decimal(amount).quantize(1, decimal.ROUND_HALF_UP)
    return f"${whole:,}"
