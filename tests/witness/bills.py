"""Bills against the layouts that they were counted from, for layouts_by_shapely.py."""

import math
from collections import defaultdict

from shapely.geometry import Polygon

JOINT = 0.002       # m; what whole boards may lack and pieces are cut short
FILLED = 0.025      # m; narrower remains at an edge are no boards


def number_in(row, column):
    return float(row[column]) if row[column] != "" else math.nan


def check_bill(roof, bill, layout):
    wrong, net = [], defaultdict(float)
    for row in bill:
        name = row["use"]
        values = {c: number_in(row, c) for c in ("net", "laps", "laid", "cuts", "spare",
                                                 "rounding", "ordered", "packs",
                                                 "pack_holds")}
        net[name] += values["net"]
        if math.isnan(values["net"]):
            if not row["note"]:
                wrong.append(f"{name}: no quantity and no note")
            continue
        one = 1.0 if row["unit"] == "each" else 0.1
        if min(v for k, v in values.items() if not math.isnan(v)) < 0:
            wrong.append(f"{name}: negative quantity")
        if values["laid"] < values["net"] or values["ordered"] < values["laid"]:
            wrong.append(f"{name}: net {values['net']}, laid {values['laid']}, ordered "
                         f"{values['ordered']}")
        if abs(values["laid"] - values["net"] - values["laps"]) > 1.1 * one:
            wrong.append(f"{name}: net and laps aren't laid")
        waste = values["cuts"] + values["spare"] + values["rounding"]
        if abs(values["ordered"] - values["laid"] - waste) > 2.1 * one:
            wrong.append(f"{name}: laid, cuts, spare and rounding aren't ordered")
        packed = values["packs"] * values["pack_holds"]
        if not math.isnan(packed) and abs(packed - values["ordered"]) > \
                one + values["packs"] * 0.0501 * (one < 1):
            wrong.append(f"{name}: {values['packs']:.0f} packs hold {packed:.1f}, "
                         f"ordered {values['ordered']}")
    return wrong + check_counts(roof, bill, layout, net)


def check_counts(roof, bill, layout, net):
    """Items against the shapes drawn."""
    method = bill[0]["method"]
    rows = sum(r["fasteners"] for r in layout["rows"])
    boards = sum(b["fasteners"] for b in layout["boards"])
    small = sum(Polygon(r).area for r in roof.level.openings if Polygon(r).area < 2.787)
    layers = 2      # 4 in of boards, not given
    board_area = layers * (sum(b["shape"].area for b in layout["boards"]) + small)
    laps = sum(r["shape"].length for r in layout["rows"] if r["kind"] == "in a lap")
    expected = {
        "seam plate": (rows, 0),
        "membrane screw": (rows + (boards if method == "induction-welded" else 0), 0),
        "induction-welded plate": (boards if method == "induction-welded" else 0, 0),
        "insulation plate": (0 if method == "induction-welded" else boards, 0),
        # boards are ordered without the joints that tracing adds to pieces
        "board": (board_area, 0.1 + layers * sum(
            JOINT * b["shape"].length for b in layout["boards"])),
        "tear-off": (roof.shape.area, 0.1),
        "bonding adhesive": (2 * roof.shape.area if method.startswith("adhered") else 0,
                             0.2),
    }
    if method == "seam-fastened":
        expected["side-lap weld"] = (laps, 0.1)
    wrong = [f"{use}: net {net.get(use, 0)}, drawn {value:.2f}"
             for use, (value, slack) in expected.items()
             if abs(net.get(use, 0) - value) > slack + 1e-9]
    sheets = net.get("field sheet", 0) + net.get("half sheet", 0)
    if abs(sheets - roof.shape.area - small) > 0.2:
        wrong.append(f"sheets: net {sheets:.2f} m2, the roof "
                     f"{roof.shape.area + small:.2f}")
    laid = sum(number_in(r, "laid") for r in bill
               if r["use"] in ("field sheet", "half sheet"))
    drawn = sum(s["shape"].area for s in layout["sheets"] if s["kind"] != "cover strip")
    if laid < drawn - 0.2:
        wrong.append(f"sheets: {laid:.2f} m2 laid, {drawn:.2f} m2 drawn")
    return wrong
