# SPDX-License-Identifier: GPL-3.0-or-later
"""Half of a joint of two round tubes as bricks of twenty nodes, mapped on the tubes: no mesher and no geometry kernel.

The chord's axis is x, the brace leaves it in the plane of x and z; the half lies at y >= 0. The chord's wall is mapped by place along
it and angle around it: a core and rings under the brace, the foot of brace and weld, a ring from the toe to a box, and what lies
beyond the box. On the foot stand the weld with the brace's wall inside it, a quadrilateral carried round, and the brace.
"""
import numpy as np


def unit(v):
    return v / np.linalg.norm(v)


class Joint:
    """Outside diameters, walls and lengths in mm, the angle in degrees, legs of the fillet. Angles around the brace count from the crown."""

    def __init__(self, chord, wall, half_length, brace, brace_wall, length, angle, leg_crown, leg_saddle):
        self.R, self.T, self.half_length, self.length = chord / 2, wall, half_length, length
        self.r, self.t, self.legs = brace / 2, brace_wall, (leg_crown, leg_saddle)
        c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
        self.axis, self.crown, self.side = np.array([-c, 0, s]), np.array([s, 0, c]), np.array([0, 1.0, 0])
        self.end = length * self.axis
        bore = self.r - self.t
        self.area, self.modulus = np.pi * (self.r ** 2 - bore ** 2), np.pi / 4 * (self.r ** 4 - bore ** 4) / self.r

    def on_chord(self, u, v):
        """The chord's outer surface over a point of the brace's section: along the crown and along the side from its axis."""
        h = (np.sqrt(self.R ** 2 - v ** 2) - u * self.crown[2]) / self.axis[2]
        return u[..., None] * self.crown + v[..., None] * self.side + h[..., None] * self.axis

    def section(self, angle):
        """Root, both toes and the directions that lead away from the root: up the brace and along the chord (as in docs/methods/joints.md)."""
        out = np.cos(angle) * self.crown + np.sin(angle) * self.side
        root = self.on_chord(np.array(self.r * np.cos(angle)), np.array(self.r * np.sin(angle)))
        normal = np.array([0, root[1], root[2]]) / self.R
        along_root = unit(np.cross(out, normal))
        up, along = np.cross(along_root, out), np.cross(along_root, normal)
        up, along = up * np.sign(up @ self.axis), along * np.sign(along @ out)
        leg = self.legs[1] + (self.legs[0] - self.legs[1]) * np.cos(angle) ** 2
        return root, root + leg / (up @ self.axis) * self.axis, self.turned("chord", root, along, leg), up, along

    def turned(self, side, at, direction, distance):
        """A step along a tube's outer surface: round it and along it."""
        axis = np.array([1.0, 0, 0]) if side == "chord" else self.axis
        shift = at @ axis * axis
        off = at - shift
        turn = distance * (direction @ np.cross(axis, unit(off))) / np.linalg.norm(off)
        return shift + distance * (direction @ axis) * axis + np.cos(turn) * off + np.sin(turn) * np.cross(axis, off)

    def step(self, side, angle, distance):
        """The place on the surface at a distance from the toe, and there the direction that leads away from the weld."""
        _, brace_toe, chord_toe, up, along = self.section(angle)
        toe, direction = (chord_toe, along) if side == "chord" else (brace_toe, up)
        at = self.turned(side, toe, direction, distance)
        axis = np.array([1.0, 0, 0]) if side == "chord" else self.axis
        normal = unit(at - at @ axis * axis)
        return at, unit(direction - direction @ normal * normal)

    def away(self, side, angle):
        return self.step(side, angle, 0.0)[1]

    def area_at(self, side, away, depth):
        """A section square to the outer surface, in parts of its area at the middle of the wall, at a share of the wall's depth: it is
        wider outside than inside where it is cut across the tube."""
        axis, outer, wall = (np.array([1.0, 0, 0]), self.R, self.T) if side == "chord" else (self.axis, self.r, self.t)
        across = away @ axis * axis
        return (across * (1 - depth * wall / outer) + away - across) / np.linalg.norm(across * (1 - wall / 2 / outer) + away - across)

    def readouts(self, side, crown):
        """DNV-RP-C203 for tubular joints [from memory]: distances from the toe of the two stresses that are drawn on."""
        near = 0.2 * np.sqrt(self.r * self.t)
        if side == "brace":
            return near, 0.65 * np.sqrt(self.r * self.t)
        return near, 0.4 * (self.r * self.t * self.R * self.T) ** 0.25 if crown else np.pi * self.R / 36

    def flat(self, side, places):
        """The outer surface rolled out: along the tube and around it, mm; the second is 0 in the plane of symmetry."""
        if side == "chord":
            return np.stack([places[:, 0], self.R * np.arctan2(places[:, 1], places[:, 2])], axis=-1)
        return np.stack([places @ self.axis, self.r * np.arctan2(places @ self.side, places @ self.crown)], axis=-1)


def with_middles(corners):
    out = np.empty(2 * len(corners) - 1)
    out[::2] = corners
    out[1::2] = (corners[:-1] + corners[1:]) / 2
    return out


def even(n):
    return np.linspace(0, 1, 2 * n + 1)


def graded(length, first, growth, most):
    """Shares 0 to 1 of the length: elements that grow from the first to the largest, with their middles."""
    sizes = [first]
    while sum(sizes) < length:
        sizes.append(min(sizes[-1] * growth, most))
    return with_middles(np.concatenate([[0], np.cumsum(sizes)]) / sum(sizes))


# A brick's nodes over the corners (0 or 2) of three axes: four below, four above, middles in the same order, then the uprights.
RING = ((0, 0), (2, 0), (2, 2), (0, 2))
MIDDLES = ((1, 0), (2, 1), (1, 2), (0, 1))
BRICK = [(*c, k) for k in (0, 2) for c in RING] + [(*c, k) for k in (0, 2) for c in MIDDLES] + [(*c, 1) for c in RING]


class Mesh:
    """density: half the elements along an eighth of the seam; layers: elements in the thinner wall, which are also as long beside the weld."""

    def __init__(self, joint, density, layers):
        self.joint, self.eighth, self.layers = joint, density, layers
        self.number, self.list, self.elements = {}, [], []
        self.surface, self.toe_columns = {"chord": [], "brace": []}, {"chord": [], "brace": []}
        self.size = min(joint.t, joint.T) / self.layers
        self.angles = np.linspace(0, np.pi, 8 * density + 1)
        self.sections = [joint.section(a) for a in self.angles]
        self.toe = np.array([s[2] for s in self.sections])
        self.under_the_brace()
        self.around_the_weld()
        self.brace_and_weld()
        self.places = np.array(self.list)

    def block(self, points):
        """A grid of points, corners at even indices; numbers of its elements. The third axis is the first's direction times the second's."""
        grid = np.full(points.shape[:3], -1)

        def node(i):
            if grid[i] < 0:
                key = tuple(np.round(points[i], 5) + 0.0)
                if key not in self.number:
                    self.number[key] = len(self.list)
                    self.list.append(points[i])
                grid[i] = self.number[key]
            return grid[i]

        numbers = np.empty([(n - 1) // 2 for n in points.shape[:3]], int)
        for i in np.ndindex(numbers.shape):
            numbers[i] = len(self.elements)
            self.elements.append([node(tuple(2 * np.array(i) + b)) for b in BRICK])
        return numbers, grid

    def chord_block(self, x, angle):
        """Places along the chord and angles around it, two grids; the third axis leads outwards through the wall."""
        j = self.joint
        radius = j.R - j.T * (1 - even(self.layers))
        shape = (*x.shape, len(radius))
        x, angle = np.broadcast_to(x[..., None], shape), np.broadcast_to(angle[..., None], shape)
        return self.block(np.stack([x, radius * np.sin(angle), radius * np.cos(angle)], axis=-1))

    def chord_of(self, points):
        return points[..., 0], np.arctan2(points[..., 1], points[..., 2])

    def under_the_brace(self):
        j, q = self.joint, self.eighth
        bore, core = j.r - j.t, 0.5 * (j.r - j.t)
        a = self.angles
        tangent = core * np.tan(a[:2 * q + 1])
        across = core / np.tan(a[2 * q:6 * q + 1])
        across[2 * q] = 0
        u, v = np.meshgrid(across[::-1], tangent, indexing="ij")
        self.chord_block(*self.chord_of(j.on_chord(u, v)))
        square = np.concatenate([np.stack([np.full(2 * q, core), tangent[:-1]], axis=-1),
                                 np.stack([across, np.full(4 * q + 1, core)], axis=-1),
                                 np.stack([np.full(2 * q, -core), tangent[-2::-1]], axis=-1)])
        circle = bore * np.stack([np.cos(a), np.sin(a)], axis=-1)
        inwards = 1 - graded(bore - core, self.size, 1.4, 3 * self.size)[::-1]  # from the core to the bore
        uv = square + inwards[:, None, None] * (circle - square)
        self.chord_block(*self.chord_of(j.on_chord(uv[..., 0], uv[..., 1])))
        foot = np.stack([self.toe @ j.crown, self.toe @ j.side], axis=-1)
        width = np.linalg.norm(foot - circle, axis=-1).mean()
        uv = circle + even(max(self.layers, round(width / self.size)))[:, None, None] * (foot - circle)
        self.foot = j.on_chord(uv[..., 0], uv[..., 1])
        self.chord_block(*self.chord_of(self.foot))

    def around_the_weld(self):
        j, q = self.joint, self.eighth
        x, angle = self.chord_of(self.toe)
        room = 4.5 * j.T
        ahead, behind, above = x[0] + room, x[-1] - room, angle.max() + room / j.R
        up, back = above * np.linspace(0, 1, 2 * q + 1), np.linspace(ahead, behind, 4 * q + 1)
        box_x = np.concatenate([np.full(2 * q, ahead), back, np.full(2 * q, behind)])
        box_angle = np.concatenate([up[:-1], np.full(4 * q + 1, above), up[-2::-1]])
        out = graded(room, self.size, 1.2, 2 * j.T)[:, None]
        numbers, grid = self.chord_block(x + out * (box_x - x), angle + out * (box_angle - angle))
        self.toe_columns["chord"] = [list(numbers[0, i, ::-1]) for i in range(numbers.shape[1])]
        self.surface["chord"] = [n for n in np.unique(grid[:, :, -1]) if n >= 0]
        rest = above + (np.pi - above) * even(max(4, 2 * q))
        for edge, end in ((ahead, j.half_length), (behind, -j.half_length)):
            along = edge + (end - edge) * graded(abs(end - edge), 2 * j.T, 1.3, 6 * j.T)
            along = along if end > 0 else along[::-1]
            for angles in (up, rest):
                self.chord_block(*np.meshgrid(along, angles, indexing="ij"))
        self.chord_block(*np.meshgrid(back[::-1], rest, indexing="ij"))

    def brace_and_weld(self):
        j = self.joint
        foot = self.cylinder(self.foot)
        if min(j.legs) > 0:
            toe = self.cylinder(np.array([s[1] for s in self.sections]))
            share = np.linspace(0, 1, len(foot))[:, None]
            over = np.stack([j.r - j.t * (1 - share) + 0 * toe[:, 0], np.broadcast_to(toe[:, 1], (len(foot), len(toe))),
                             np.broadcast_to(toe[:, 2], (len(foot), len(toe)))], axis=-1)
            climb = np.linalg.norm(np.array([s[1] - s[0] for s in self.sections]), axis=-1).mean()
            self.brace_block(foot, over, even(max(2, round(climb / self.size))))
        else:
            over = foot
        end = over.copy()
        end[..., 2] = j.length
        numbers, grid = self.brace_block(over, end, graded(j.length - over[..., 2].mean(), self.size, 1.2, 3 * j.t))
        self.toe_columns["brace"] = [list(numbers[::-1, i, 0]) for i in range(numbers.shape[1])]
        self.surface["brace"] = [n for n in np.unique(grid[-1]) if n >= 0]

    def cylinder(self, points):
        """Radius, angle and height in the brace."""
        j = self.joint
        u, v = points @ j.crown, points @ j.side
        return np.stack([np.hypot(u, v), np.arctan2(v, u), points @ j.axis], axis=-1)

    def brace_block(self, below, above, shares):
        j = self.joint
        c = below[:, :, None] + shares[:, None] * (above - below)[:, :, None]
        return self.block(c[..., :1] * (np.cos(c[..., 1:2]) * j.crown + np.sin(c[..., 1:2]) * j.side) + c[..., 2:] * j.axis)

    def surface_nodes(self):
        return sorted({n for nodes in self.surface.values() for n in nodes})

    def toe_elements(self):
        return sorted({e for columns in self.toe_columns.values() for c in columns for e in c})

    def angle_of(self, element, share):
        """The angle around the brace at a share of an element's width, of one next to a toe."""
        for columns in self.toe_columns.values():
            for i, column in enumerate(columns):
                if element in column:
                    return self.angles[2 * i] + share * (self.angles[2 * i + 2] - self.angles[2 * i])
        raise KeyError(element)

    @staticmethod
    def gauss_number(side, around, inwards, away):
        """Number of a Gauss point of an element next to a toe, the first axis counting fastest; of the chord: away from the weld, around
        it, outwards through the wall; of the brace: outwards, around, up."""
        first, third = (away, 1 - inwards) if side == "chord" else (1 - inwards, away)
        return first + 2 * around + 4 * third

    def volume(self):
        """By two Gauss points along each axis; none of them may see its element turned inside out."""
        total, corners = 0.0, np.array(BRICK) - 1.0
        places = self.places[np.array(self.elements)]
        for g in np.array(np.meshgrid(*[GAUSS_POINTS] * 3)).reshape(3, -1).T:
            gradient = shape_gradients(corners, g)
            jacobian = np.linalg.det(np.einsum("eni,nj->eij", places, gradient))
            assert jacobian.min() > 0
            total += jacobian.sum()
        return total


GAUSS_POINTS = np.array([-1, 1]) / np.sqrt(3)


def shape_gradients(corners, at):
    """Of the twenty-node brick (Zienkiewicz, Taylor & Zhu, The Finite Element Method, 6th ed. 2005, section 4.13 [from memory])."""
    def shape(x):
        product = 1 + corners * x
        corner = product.prod(axis=1) * ((corners * x).sum(axis=1) - 2) / 8
        middle = np.where(corners == 0, 1 - x ** 2, product).prod(axis=1) / 4
        return np.where(abs(corners).sum(axis=1) == 3, corner, middle)

    step = 1e-4  # central differences are exact to rounding for a polynomial of the second degree along each axis
    return np.stack([(shape(at + step * e) - shape(at - step * e)) / (2 * step) for e in np.eye(3)], axis=-1)
