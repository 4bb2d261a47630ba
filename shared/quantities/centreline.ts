import {
  buildCentreline,
  type Centreline,
  type CentrelineNode,
  type CentrelineProblem,
} from '../geometry/centreline.ts';
import type { Runner, RunnerNode } from '../spec/spec.ts';
import { formatSi } from '../units/format.ts';
import { at, derive, type Known, known, unknown, whyNot } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { runnerOuterRadius } from './tube.ts';

/** The exact centreline of a runner's node table. Missing cells and bends that do not fit come back as the reason. */
export function runnerCentreline(context: FactContext, runner: Runner): Known<Centreline> {
  return context.memo(`centreline/${runner.id}`, [runner.nodes], () => centrelineOf(runner));
}

/** Centreline length of a runner from port to collector inlet, metres. Exact: straights and arcs, never the mesh. */
export function runnerLength(context: FactContext, runner: Runner): Known<number> {
  return derive({ line: runnerCentreline(context, runner) }, ({ line }) => line.length);
}

/**
 * The centreline of a runner when a tube of its outside diameter can follow it; inconsistent where a bend is so tight that the tube would run
 * through itself on the inside of it.
 */
export function tubeCentreline(context: FactContext, runner: Runner): Known<Centreline> {
  return derive(
    { line: runnerCentreline(context, runner), outerRadius: runnerOuterRadius(context) },
    ({ line, outerRadius }): Centreline | Known<Centreline> => {
      const tight = line.bends.find(({ radius }) => radius <= outerRadius);
      const node = tight && runner.nodes[tight.node];
      if (!tight || !node) return line;
      const detail = `node ${tight.node + 1}: expected a bend radius above half the outside diameter (${mm(outerRadius)}), got ${mm(tight.radius)}; the tube would run through itself`;
      return unknown({ reason: 'inconsistent', detail, paths: [`runners.${runner.id}.nodes.${node.id}.radius`] });
    },
  );
}

function centrelineOf(runner: Runner): Known<Centreline> {
  const table = nodeTable(runner);
  if (!table.known) return table;
  const line = buildCentreline(table.value);
  return line.ok ? known(line) : unknown(problemWords(line, runner));
}

/** A runner's node table as numbers; the end nodes need no radius. */
export function nodeTable(runner: Runner): Known<readonly CentrelineNode[]> {
  const out: CentrelineNode[] = [];
  const missing: string[] = [];
  for (const [i, node] of runner.nodes.entries()) {
    const cells = nodeCells(runner, node, i > 0 && i < runner.nodes.length - 1);
    const why = whyNot(cells);
    if (why?.reason === 'missing') missing.push(...why.paths);
    const row = derive(cells, (v) => ({ x: v.x, y: v.y, z: v.z, radius: v.radius }));
    if (row.known) out.push(row.value);
  }
  return missing.length > 0 ? unknown({ reason: 'missing', paths: missing }) : known(out);
}

function nodeCells(runner: Runner, node: RunnerNode, inner: boolean) {
  const path = `runners.${runner.id}.nodes.${node.id}`;
  return {
    x: at<number>(`${path}.x`, node.x),
    y: at<number>(`${path}.y`, node.y),
    z: at<number>(`${path}.z`, node.z),
    radius: inner ? at<number>(`${path}.radius`, node.radius) : known(0),
  };
}

const mm = (metres: number): string => formatSi('length', metres);

function problemWords(
  problem: CentrelineProblem,
  runner: Runner,
): { reason: 'inconsistent'; detail: string; paths: string[] } {
  const node = 'node' in problem ? runner.nodes[problem.node] : undefined;
  const path = node ? `runners.${runner.id}.nodes.${node.id}` : `runners.${runner.id}`;
  const which = 'node' in problem ? `node ${problem.node + 1}` : '';
  const at = (detail: string, cell = ''): { reason: 'inconsistent'; detail: string; paths: string[] } => ({
    reason: 'inconsistent',
    detail,
    paths: [`${path}${cell}`],
  });
  switch (problem.code) {
    case 'too-few-nodes':
      return at(`expected at least 2 nodes, got ${problem.count}`);
    case 'not-finite':
      return at(`${which}: expected finite numbers`);
    case 'coincident':
      return at(`${which}: expected a place apart from the node before, got ${mm(problem.distance)}`);
    case 'no-radius':
      return at(`${which}: expected a bend radius above 0, got ${mm(problem.radius)}`, '.radius');
    case 'reversal':
      return at(`${which}: expected a turn below 180 deg, the line comes straight back`);
    case 'bend-does-not-fit':
      return at(
        `${which}: the bend needs ${mm(problem.setback)} of straight beside it, only ${mm(problem.available)} is there; take a smaller radius or move the node`,
        '.radius',
      );
  }
}
