#!/usr/bin/env python3
"""Writes percent.xlsx anew: the built-in table of prices as somebody keeps it in a
spreadsheet, its share of overhead typed as 12 % into a cell formatted as per cent, which
holds 0.12. Needs openpyxl."""

import csv
import pathlib

import openpyxl

HERE = pathlib.Path(__file__).resolve().parent
PRICES = HERE.parent.parent / "src" / "catalog" / "prices.csv"


def number(text):
    try:
        return float(text)
    except ValueError:
        return text or None


def main():
    book = openpyxl.Workbook()
    sheet = book.active
    with open(PRICES, newline="", encoding="utf-8") as file:
        for row in csv.reader(file):
            sheet.append([number(cell) for cell in row])
    for row in sheet.iter_rows(min_row=2):
        if row[0].value == "overhead":
            row[2].value = 0.12
            row[2].number_format = "0%"
    book.save(HERE / "percent.xlsx")


if __name__ == "__main__":
    main()
