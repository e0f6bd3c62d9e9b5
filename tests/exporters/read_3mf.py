"""Reads a 3MF file with zipfile and an XML parser alone, by the Core specification, and prints what it holds:
the unit, then a line for each object placed: name, vertices, triangles, edges shared by other than two
triangles of opposite direction, volume. Then a line "dates" with every date of the zip."""
import sys
import xml.etree.ElementTree as xml
import zipfile

core = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
relationships = "{http://schemas.openxmlformats.org/package/2006/relationships}"
start = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"


def volume(points, triangles):
    six = 0.0
    for i, j, k in triangles:
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = points[i], points[j], points[k]
        six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    return six / 6.0


def faults(triangles):
    sides = {}
    for t in triangles:
        for k in range(3):
            side = (t[k], t[(k + 1) % 3])
            sides[side] = sides.get(side, 0) + 1
    return sum(1 for (a, b), count in sides.items() if count != 1 or sides.get((b, a), 0) != 1)


with zipfile.ZipFile(sys.argv[1]) as package:
    assert package.testzip() is None
    types = package.read("[Content_Types].xml").decode()
    assert "application/vnd.ms-package.3dmanufacturing-3dmodel+xml" in types
    links = xml.fromstring(package.read("_rels/.rels"))
    target = [r.get("Target") for r in links.iter(relationships + "Relationship") if r.get("Type") == start]
    assert len(target) == 1
    model = xml.fromstring(package.read(target[0].lstrip("/")))
    assert model.tag == core + "model"
    objects = {o.get("id"): o for o in model.iter(core + "object")}
    print(model.get("unit"))
    for item in model.iter(core + "item"):
        part = objects[item.get("objectid")]
        points = [tuple(float(v.get(k)) for k in "xyz") for v in part.iter(core + "vertex")]
        triangles = [tuple(int(t.get(k)) for k in ("v1", "v2", "v3")) for t in part.iter(core + "triangle")]
        print(part.get("name"), len(points), len(triangles), faults(triangles),
              "%.3f" % volume(points, triangles), sep="|")
    print("dates", sorted({i.date_time for i in package.infolist()}))
