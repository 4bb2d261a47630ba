// All that the wrapper calls.
export { allocate, mark, release } from './memory';
export { makeTriangles } from './plane';
export { boxLeaves, buildBinary, foldToFour, refit } from './tree';
export { boxBoxes, boxRuns, cutRanges, orderRanges, takeOrder } from './points';
export { leastDistance, nearestPairs, trianglesNear, takePoints } from './pairs';
export { fieldOf, fieldOfRuns, runsNear, takeField } from './field';
export { castRays } from './rays';
export { scratchRoom, takeScratch } from './scratch';
export { shrinkBalls } from './balls';
export { nearestTriangles, takeNearest } from './nearest';
