"""Tells what a second reader finds in DXF files, as JSON: one object a file."""
import json
import sys

import ezdxf
from ezdxf import bbox
from ezdxf.colors import aci2rgb
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import BoundingBox2d, ConstructionArc

found = []
for path in sys.argv[1:]:
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    space = doc.modelspace()
    kinds, texts, layers = {}, [], {}
    for e in space:
        kinds[e.dxftype()] = kinds.get(e.dxftype(), 0) + 1
        layers.setdefault(e.dxf.layer, 0)
        layers[e.dxf.layer] += 1
        if e.dxftype() == "TEXT":
            e.dxf.text = decode_dxf_unicode(e.dxf.text)
            texts.append({"says": e.plain_text(), "high": e.dxf.height, "x": e.dxf.insert.x, "y": e.dxf.insert.y,
                          "turn": e.dxf.get("rotation", 0), "anchor": e.dxf.get("halign", 0)})
    # Arcs by their own reckoning, as the reader's boxes are about the ends of curves.
    round_ones = [e.construction_tool() for e in space if e.dxftype() == "ARC"]
    round_ones += [ConstructionArc(e.dxf.center, e.dxf.radius, a, a + 180)
                   for e in space if e.dxftype() == "CIRCLE" for a in (0, 90, 180, 270)]
    straight = bbox.extents([e for e in space if e.dxftype() not in ("TEXT", "ARC", "CIRCLE")])
    box = BoundingBox2d([p for b in [straight] + [e.bounding_box for e in round_ones]
                         if b.has_data for p in (b.extmin, b.extmax)])
    found.append({
        "version": doc.dxfversion,
        "insunits": doc.header.get("$INSUNITS"),
        "measurement": doc.header.get("$MEASUREMENT"),
        "extent": [list(doc.header["$EXTMIN"])[:2], list(doc.header["$EXTMAX"])[:2]],
        "errors": [str(e.message) for e in audit.errors],
        "fixes": [str(e.message) for e in audit.fixes],
        "kinds": kinds,
        "on": layers,
        "colours": {l.dxf.name: list(aci2rgb(l.color)) for l in doc.layers},
        "dashes": {l.dxf.name: len(l.pattern_tags.tags) for l in doc.linetypes},
        "texts": texts,
        "box": [list(box.extmin)[:2], list(box.extmax)[:2]] if box.has_data else None,
    })
json.dump(found, sys.stdout)
