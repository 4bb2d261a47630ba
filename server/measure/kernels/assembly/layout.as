// Where things stand in memory. Lengths are millimetres in single precision from the origin of the kernel.

/** A node: least x, y, z and greatest x, y, z of its four children (six vectors), then their places and how much they hold. */
export const NODE: usize = 128;
export const NODE_BITS: usize = 7;
export const LEAST_X: usize = 0;
export const LEAST_Y: usize = 16;
export const LEAST_Z: usize = 32;
export const MOST_X: usize = 48;
export const MOST_Y: usize = 64;
export const MOST_Z: usize = 80;
/** Number of the child's node, or of the first triangle of a leaf. */
export const CHILD: usize = 96;
/** Triangles of a leaf; 0 for a child with children, -1 for no child. */
export const HELD: usize = 112;

/** Four boxes of points: a node without the last two. */
export const FOUR_BOXES: usize = 96;

/**
 * A triangle: corner a, then its plane, where a is the zero, b lies on the first axis and c on the side of the second: unit vectors along the
 * two axes and square to them, and what follows.
 */
export const TRIANGLE: usize = 160;
export const AXIS_X: usize = 12;
export const AXIS_Y: usize = 24;
export const NORMAL: usize = 36;
/** Length of the edge u = b - a; way (unit vector in the plane) and length of w = c - a and of v = c - b. */
export const LENGTH_U: usize = 48;
export const WAY_W: usize = 52;
export const LENGTH_W: usize = 60;
export const WAY_V: usize = 64;
export const LENGTH_V: usize = 72;
/** What the square of a quick distance may be too great by for the size of what it is to. */
export const ERROR: usize = 76;
/** Of the first triangle of a leaf: the box around the leaf in its frame, least and greatest x, y and height. */
export const LEAF_LEAST: usize = 80;
export const LEAF_MOST: usize = 92;
/** Number in the mesh. */
export const NUMBER: usize = 104;
/** How far a ray may pass outside of an edge and still meet it; no number where three corners in line make no plane. */
export const SLACK: usize = 108;
/** The edges u and w, and one over the square of u, w and v; 0 for an edge of no length. */
export const EDGE_U: usize = 112;
export const EDGE_W: usize = 124;
export const INVERSE_U: usize = 136;
export const INVERSE_W: usize = 140;
export const INVERSE_V: usize = 144;

/** Stands for a box that holds nothing: farther than anything. */
export const NOWHERE: f32 = 1e18;
export const HUGE: f32 = 1e30;

/** Deepest a tree gets: below COUNT_ONLY halves are cut by count, which leaves 26 levels for 2^26 triangles. */
export const COUNT_ONLY: i32 = 40;
