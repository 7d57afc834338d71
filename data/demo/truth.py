#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""One definition of the Harbour Lane demo scene, from which the picture and its truth both come.

Writes beside itself: harbour-outline.inc (read by harbour-lane.pov), harbour-lane.truth.json (exact)
and harbour-lane.knowns.json (what a hand would click, with a seeded hand error).
Metres; X along the library front, Y from car park to library, Z up, ground plane Z = 0.
Pixels: (0,0) is the outer corner of the top left pixel. Python standard library only.
"""
import json
import math
import os
import random

HERE = os.path.dirname(os.path.abspath(__file__))
W, H = 2016, 1512
F_PX = 26.0 / 36.0 * W                  # 26 mm equivalent over the long side of a 36 mm frame
CAMERA = (-2.2, -0.5, 1.55)
YAW, PITCH, ROLL = 63.0, -9.5, 0.8      # degrees; yaw from +Y towards +X; pitch < 0 looks down;
                                        # roll > 0 turns the camera clockwise seen from behind
AZIMUTH_OF_Y = 330.0                    # compass direction of +Y
SUN_AZIMUTH, SUN_ALTITUDE = 121.2, 53.4  # 42.10 N 88.30 W, 2026-05-12 10:40 at UTC-5
FT = 0.3048

WALK_Y0, WALK_WIDTH, JOINT = 4.0, 4 * FT, 5 * FT
KERB_BACK, KERB_JOINT = 0.15, 10 * FT
DOOR = {"x0": 7.25, "x1": 8.95, "y": 8.62, "z0": 0.16, "height": 7 * FT}
MARKER = {"x": 4.55, "y": 0.56, "height": 1.2, "radius": 0.057}
SIGN = {"x": 11.35, "y": 0.62, "height": 7 * FT, "radius": 0.03}

# The bed's outline runs smoothly through these, anticlockwise from the near kerb side.
KNOTS = [(0.95, 1.00), (2.60, 0.93), (4.50, 1.18), (6.40, 1.17), (8.40, 0.93), (9.65, 1.16),
         (10.28, 1.92), (9.85, 2.76), (8.60, 3.14), (6.80, 2.92), (5.00, 2.80), (3.20, 3.22),
         (1.70, 3.50), (0.40, 3.30), (-0.22, 2.42), (0.10, 1.48)]
BRICK_STEP = 0.104                      # one edging brick with its joint
BRICK_GAP = 0.004                       # from a brick's end to the middle of its joint, as in ground.inc


def cyclic_spline(values, steps):
    """Second derivatives of the closed C2 cubic through values with knot steps (Gauss-Seidel)."""
    n = len(values)
    second = [0.0] * n
    for _ in range(400):
        for i in range(n):
            a, b = steps[i - 1], steps[i]
            slope = (values[(i + 1) % n] - values[i]) / b - (values[i] - values[i - 1]) / a
            second[i] = (6 * slope - a * second[i - 1] - b * second[(i + 1) % n]) / (2 * (a + b))
    return second


def closed_curve(knots, per_span):
    n = len(knots)
    steps = [math.dist(knots[i], knots[(i + 1) % n]) for i in range(n)]
    axes = [[k[axis] for k in knots] for axis in (0, 1)]
    seconds = [cyclic_spline(v, steps) for v in axes]
    curve = []
    for i in range(n):
        j, h = (i + 1) % n, steps[i]
        for s in range(per_span):
            b = s / per_span
            a = 1 - b
            curve.append(tuple(a * v[i] + b * v[j] + ((a**3 - a) * m[i] + (b**3 - b) * m[j]) * h * h / 6
                               for v, m in zip(axes, seconds)))
    return curve


def resample(curve, count):
    """count points at equal lengths along the closed polyline."""
    closed = curve + curve[:1]
    lengths = [math.dist(a, b) for a, b in zip(closed, closed[1:])]
    total, out, i, done = sum(lengths), [], 0, 0.0
    for k in range(count):
        want = total * k / count
        while done + lengths[i] < want:
            done += lengths[i]
            i += 1
        t = (want - done) / lengths[i]
        out.append(tuple(p + t * (q - p) for p, q in zip(closed[i], closed[i + 1])))
    return out


def area(poly):
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(poly, poly[1:] + poly[:1]))) / 2


def perimeter(poly):
    return sum(math.dist(a, b) for a, b in zip(poly, poly[1:] + poly[:1]))


def camera_axes():
    y, p, r = (math.radians(v) for v in (YAW, PITCH, ROLL))
    forward = (math.sin(y) * math.cos(p), math.cos(y) * math.cos(p), math.sin(p))
    right = (math.cos(y), -math.sin(y), 0.0)
    down = (math.sin(y) * math.sin(p), math.cos(y) * math.sin(p), -math.cos(p))
    x = tuple(math.cos(r) * a + math.sin(r) * b for a, b in zip(right, down))
    z = tuple(-math.sin(r) * a + math.cos(r) * b for a, b in zip(right, down))
    return x, z, forward                # camera x right, y down, z forward


AXES = camera_axes()
K = [[F_PX, 0.0, W / 2], [0.0, F_PX, H / 2], [0.0, 0.0, 1.0]]
T = [-sum(a * c for a, c in zip(axis, CAMERA)) for axis in AXES]
P = [[sum(K[i][k] * (list(AXES[k]) + [T[k]])[j] for k in range(3)) for j in range(4)] for i in range(3)]


def project(point):
    u, v, w = (sum(row[i] * c for i, c in enumerate((*point, 1.0))) for row in P)
    return u / w, v / w


def to_ground(u, v):
    """Ground point under a pixel: the inverse of project for Z = 0."""
    ray = [AXES[0][i] * (u - W / 2) + AXES[1][i] * (v - H / 2) + AXES[2][i] * F_PX for i in range(3)]
    s = -CAMERA[2] / ray[2]
    return CAMERA[0] + s * ray[0], CAMERA[1] + s * ray[1]


def catmull_rom(points, per_span=24):
    """Closed centripetal Catmull-Rom curve through points (Barry and Goldman's pyramid)."""
    n, out = len(points), []
    for i in range(n):
        p = [points[(i + k - 1) % n] for k in range(4)]
        t = [0.0]
        for a, b in zip(p, p[1:]):
            t.append(t[-1] + math.sqrt(math.dist(a, b)))

        def mix(a, b, ta, tb, x):
            return tuple(((tb - x) * u + (x - ta) * v) / (tb - ta) for u, v in zip(a, b))
        for s in range(per_span):
            x = t[1] + (t[2] - t[1]) * s / per_span
            a = [mix(p[k], p[k + 1], t[k], t[k + 1], x) for k in range(3)]
            b = [mix(a[k], a[k + 1], t[k], t[k + 2], x) for k in range(2)]
            out.append(mix(b[0], b[1], t[1], t[2], x))
    return out


def hull(points):
    """Convex hull, anticlockwise (Andrew's monotone chain)."""
    def half(pts):
        out = []
        for q in pts:
            while len(out) > 1 and ((out[-1][0] - out[-2][0]) * (q[1] - out[-2][1])
                                    - (out[-1][1] - out[-2][1]) * (q[0] - out[-2][0])) <= 0:
                out.pop()
            out.append(q)
        return out[:-1]
    pts = sorted(points)
    return half(pts) + half(pts[::-1])


def post_silhouette(post):
    ring = [2 * math.pi * k / 48 for k in range(48)]
    return hull([project((post["x"] + post["radius"] * math.cos(a), post["y"] + post["radius"] * math.sin(a), z))
                 for a in ring for z in (0.0, post["height"])])


def bed_polygon():
    curve = closed_curve(KNOTS, 200)
    return resample(curve, round(perimeter(curve) / BRICK_STEP))


def named_points():
    out = []

    def add(name, kind, x, y, z=0.0, seen=True):
        px = project((x, y, z))
        ahead = sum(a * (p - c) for a, p, c in zip(AXES[2], (x, y, z), CAMERA)) > 0
        inside = ahead and 0 <= px[0] <= W and 0 <= px[1] <= H
        out.append({"name": name, "kind": kind, "metres": [round(c, 6) for c in (x, y, z)],
                    f"px_{W}x{H}": [round(c, 3) for c in px], "in_frame": inside, "seen": inside and seen})
    for k in range(1, 9):
        add(f"walk_joint_{k:02d}_bed_side", "ground", k * JOINT, WALK_Y0)
        add(f"walk_joint_{k:02d}_library_side", "ground", k * JOINT, WALK_Y0 + WALK_WIDTH)
    for k in range(0, 7):
        add(f"kerb_joint_{k:02d}_back", "ground", k * KERB_JOINT, KERB_BACK)
    for name, post in (("marker_post", MARKER), ("sign_post", SIGN)):
        add(f"{name}_base", "ground", post["x"], post["y"])
        add(f"{name}_top", "vertical", post["x"], post["y"], post["height"])
    top = DOOR["z0"] + DOOR["height"]
    for side, x in (("left", DOOR["x0"]), ("right", DOOR["x1"])):
        seen = side == "right"          # the stone surround hides the door's left edge
        add(f"door_bottom_{side}", "vertical", x, DOOR["y"], DOOR["z0"], seen)
        add(f"door_top_{side}", "vertical", x, DOOR["y"], top, seen)
    return out


def within(point, polygon):
    x, y = point
    odd = False
    for a, b in zip(polygon, polygon[1:] + polygon[:1]):
        if (a[1] > y) != (b[1] > y) and x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]:
            odd = not odd
    return odd


def brick_corners(bed):
    """Both upper inner corners of each edging brick, as if its ends were not rounded (by 4 mm).

    No such corner shows: the flat face ends 4 mm further in, and what is seen is the joint, whose middle
    is bed_NNN. They serve to tell how wide a joint is in the picture.
    seen: in the picture and no post before it; a clod or a leaf may lie on it all the same.
    """
    posts = [post_silhouette(post) for post in (MARKER, SIGN)]
    out = []
    for i, (a, b) in enumerate(zip(bed, bed[1:] + bed[:1])):
        length = math.dist(a, b)
        for end, along in (("start", BRICK_GAP), ("end", length - BRICK_GAP)):
            x, y = (p + (q - p) * along / length for p, q in zip(a, b))
            px = project((x, y, 0.0))
            inside = 0 <= px[0] <= W and 0 <= px[1] <= H
            out.append({"name": f"brick_{i:03d}_{end}", "kind": "brick",
                        "metres": [round(x, 6), round(y, 6), 0.0],
                        f"px_{W}x{H}": [round(c, 3) for c in px], "in_frame": inside,
                        "seen": inside and not any(within(px, post) for post in posts)})
    return out


def truth(bed):
    heading = (AZIMUTH_OF_Y + YAW) % 360
    points = named_points()
    for i, (x, y) in enumerate(bed):
        px = project((x, y, 0.0))
        points.append({"name": f"bed_{i:03d}", "kind": "bed", "metres": [round(x, 6), round(y, 6), 0.0],
                       f"px_{W}x{H}": [round(c, 3) for c in px], "in_frame": 0 <= px[0] <= W and 0 <= px[1] <= H,
                       "seen": True})
    points += brick_corners(bed)
    return {
        "photo": {"file": "harbour-lane.jpg", "width": W, "height": H, "f_px": F_PX, "K": K,
                  "R_world_to_camera": [list(a) for a in AXES], "t_m": T, "P_3x4_m": P,
                  "pixel_convention": "px = corner based: (0,0) is the outer corner of the top-left pixel, "
                                      "pixel centres at +0.5; subtract 0.5 for centre-based"},
        "units": "metres; pixel (0,0) = outer corner of the top left pixel",
        "world": "X right along the library front, Y from the car park to the library, Z up, ground plane Z = 0",
        "camera_position_m": list(CAMERA), "camera_height_m": CAMERA[2],
        "yaw_deg": YAW, "pitch_deg": PITCH, "roll_deg": ROLL,
        "azimuth_of_y_deg": AZIMUTH_OF_Y, "heading_deg": heading,
        "sun": {"azimuth_deg": SUN_AZIMUTH, "altitude_deg": SUN_ALTITUDE},
        "walk": {"width_m": WALK_WIDTH, "joint_spacing_m": JOINT, "y_bed_side_m": WALK_Y0},
        "kerb": {"back_edge_y_m": KERB_BACK, "joint_spacing_m": KERB_JOINT},
        "marker_post_height_m": MARKER["height"], "sign_post_height_m": SIGN["height"],
        "door_height_m": DOOR["height"],
        "bed": {"area_m2": area(bed), "perimeter_m": perimeter(bed), "vertices": len(bed),
                "length_m": max(p[0] for p in bed) - min(p[0] for p in bed),
                "definition": "polygon of the inner upper edges of the edging bricks, all at Z = 0"},
        "in_front_of_bed": [{"name": "marker post",
                             "outline_px": [[round(c, 2) for c in p] for p in post_silhouette(MARKER)]}],
        "corners": {
            "bed": "seen: the middle of the joint between two edging bricks, where it meets their inner edge",
            "brick": "not seen as a corner: the end of a brick before its edge is rounded, 4 mm off the middle "
                     "of the joint",
            "walk_joint": "the middle of a joint of the walk on its side edge, at the slabs' height; grass hides "
                          "some of the edge beyond the third joint",
            "kerb_joint": "the middle of a joint at the height of the higher length; beside a length 3 mm lower "
                          "the dark band reaches as much further down"},
        "points": points}


def knowns(bed):
    """Hand clicks: Gaussian error of about 0.6 px a coordinate, the bed's outline within 1 px."""
    rng = random.Random(20260512)

    def click(x, y, z=0.0, sigma=0.6):
        return [round(c + max(-1.2, min(1.2, rng.gauss(0, sigma))), 1) for c in project((x, y, z))]
    near, far = WALK_Y0, WALK_Y0 + WALK_WIDTH
    corners = [(1, near), (3, near), (3, far), (1, far)]
    trace = trace_bed(bed, rng)
    slim = [[round(c, 1) for c in p] for p in post_silhouette(MARKER)]
    return {
        "photo": "harbour-lane.jpg", "size_px": [W, H],
        "pixel_convention": "corner based, as in harbour-lane.truth.json",
        "rectangle": {"name": "two panels of the front walk", "width_m": WALK_WIDTH, "length_m": 2 * JOINT,
                      "order": "bed side near, bed side far, library side far, library side near",
                      "px": [click(k * JOINT, y) for k, y in corners]},
        "lengths": [
            {"name": "kerb, joint to joint along its back edge", "length_m": KERB_JOINT,
             "px": [click(1 * KERB_JOINT, KERB_BACK), click(2 * KERB_JOINT, KERB_BACK)]},
            {"name": "next panel of the walk along its bed side", "length_m": JOINT,
             "px": [click(3 * JOINT, near), click(4 * JOINT, near)]}],
        "heights": [
            {"name": "marker post", "height_m": MARKER["height"],
             "base_px": click(MARKER["x"], MARKER["y"]), "top_px": click(MARKER["x"], MARKER["y"], MARKER["height"])},
            {"name": "sign post", "height_m": SIGN["height"],
             "base_px": click(SIGN["x"], SIGN["y"]), "top_px": click(SIGN["x"], SIGN["y"], SIGN["height"])}],
        "bed_outline": {"curve": "closed centripetal Catmull-Rom through the points", "px": trace, "sharp": []},
        "in_front_of_bed": [{"name": "marker post", "px": slim}]}


def trace_bed(bed, rng, count=26):
    """Points a hand would click round the visible edge: closer where the outline turns in the picture."""
    dense = resample(bed, 1200)
    pixels = [project((x, y, 0.0)) for x, y in dense]
    n, weight = len(pixels), [0.0]
    for i in range(n):
        a, b, c = pixels[i - 12], pixels[i], pixels[(i + 12) % n]
        turn = abs(math.remainder(math.atan2(c[1] - b[1], c[0] - b[0])
                                  - math.atan2(b[1] - a[1], b[0] - a[0]), 2 * math.pi)) / 12
        weight.append(weight[-1] + 0.35 * math.dist(b, pixels[(i + 1) % n]) / 1000 + 0.22 * turn
                      + 1.1 * math.dist(dense[i], dense[(i + 1) % n]) / 24)
    out = []
    for k in range(count):
        want = weight[-1] * k / count
        i = next(j for j in range(n) if weight[j + 1] > want)
        out.append([round(v + rng.uniform(-1, 1), 1) for v in pixels[i]])
    return out


def outline_include(bed):
    def vec(v):
        return "<" + ", ".join(f"{c:.9f}" for c in v) + ">"
    az = math.radians(SUN_AZIMUTH - AZIMUTH_OF_Y)
    alt = math.radians(SUN_ALTITUDE)
    sun = (math.sin(az) * math.cos(alt), math.cos(az) * math.cos(alt), math.sin(alt))
    lines = ["// Written by truth.py: the camera, the sun, the measured things and the bed's outline.",
             f"#declare CamAt = {vec(CAMERA)};",
             f"#declare CamForward = {vec(c * F_PX / W for c in AXES[2])};",
             f"#declare CamRight = {vec(AXES[0])};",
             f"#declare CamUp = {vec(-c * H / W for c in AXES[1])};",
             f"#declare SunDir = {vec(sun)};",
             f"#declare WalkY0 = {WALK_Y0}; #declare WalkY1 = {WALK_Y0 + WALK_WIDTH:.6f};",
             f"#declare WalkJoint = {JOINT:.6f};",
             f"#declare KerbBack = {KERB_BACK}; #declare KerbJoint = {KERB_JOINT:.6f};",
             f"#declare DoorX0 = {DOOR['x0']}; #declare DoorX1 = {DOOR['x1']}; #declare DoorY = {DOOR['y']};",
             f"#declare DoorZ0 = {DOOR['z0']}; #declare DoorHeight = {DOOR['height']:.6f};"]
    for name, post in (("Marker", MARKER), ("Sign", SIGN)):
        lines.append(f"#declare {name}At = <{post['x']}, {post['y']}, 0>; "
                     f"#declare {name}Height = {post['height']:.6f}; #declare {name}Radius = {post['radius']};")
    lines += [f"#declare BedCount = {len(bed)};", "#declare Bed = array[BedCount] {"]
    lines += [",\n".join(f"  <{x:.6f}, {y:.6f}>" for x, y in bed), "}"]
    return "\n".join(lines) + "\n"


def write(name, text):
    with open(os.path.join(HERE, name), "w", encoding="utf-8") as out:
        out.write(text)


def main():
    bed = bed_polygon()
    known = knowns(bed)
    traced = [to_ground(*p) for p in catmull_rom(known["bed_outline"]["px"])]
    write("harbour-outline.inc", outline_include(bed))
    write("harbour-lane.truth.json", json.dumps(truth(bed), indent=1) + "\n")
    write("harbour-lane.knowns.json", json.dumps(known, indent=1) + "\n")
    print(f"bed {area(bed):.4f} m2, {perimeter(bed):.4f} m round, {len(bed)} bricks")
    print(f"the hand traced outline holds {area(traced):.4f} m2, {100 * (area(traced) / area(bed) - 1):+.2f} %")


if __name__ == "__main__":
    main()
