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

/** A triangle: corner a, edges u = b - a and w = c - a, unit normal, and what follows. */
export const TRIANGLE: usize = 112;
export const EDGE_U: usize = 12;
export const EDGE_W: usize = 24;
export const NORMAL: usize = 36;
/** Unit vectors in the plane, square to the edges u, w and v = w - u and inwards; no numbers where there is no plane. */
export const INWARD_U: usize = 48;
export const INWARD_W: usize = 60;
export const INWARD_V: usize = 72;
/** One over the square of each edge; 0 for an edge of no length. */
export const INVERSE_U: usize = 84;
export const INVERSE_W: usize = 88;
export const INVERSE_V: usize = 92;
/** Number in the mesh. */
export const NUMBER: usize = 96;

/** Stands for a box that holds nothing: farther than anything. */
export const NOWHERE: f32 = 1e18;
export const HUGE: f32 = 1e30;

/** Deepest a tree gets: below COUNT_ONLY halves are cut by count, which leaves 26 levels for 2^26 triangles. */
export const COUNT_ONLY: i32 = 40;
