import { gateRow } from '../gates/gates.ts';
import type { TableName } from '../protocol/papers.ts';
import { type Limit, marginOf } from '../rules/outcome.ts';
import { findRule } from '../rules/registry.ts';
import { coveredFacts, formatFact, pathWords } from '../spec/covered.ts';
import { sheetSections } from '../spec/fields.ts';
import { fieldAt } from '../spec/path.ts';
import { quantityRow } from '../units/quantities.ts';
import type { DataTable, TableValue } from './csv.ts';
import { blockersOf, nameOf, type PaperFacts, stateWords, verdictLine } from './facts.ts';

/** One table of a job. Numbers are SI, their unit stands beside them. */
export function dataTable(name: TableName, facts: PaperFacts): DataTable {
  return makers[name](facts);
}

const makers: Readonly<Record<TableName, (facts: PaperFacts) => DataTable>> = {
  verdicts,
  spec,
  gates,
  signatures,
  concessions,
  markups,
};

function verdicts(facts: PaperFacts): DataTable {
  const columns = ['gate', 'rule', 'subject', 'severity', 'status', 'measured', 'low', 'high', 'margin', 'unit'];
  const rows = facts.verdicts.map((verdict): readonly TableValue[] => {
    const line = verdictLine(verdict);
    const rule = findRule(verdict.rule);
    const judged = 'measured' in verdict ? verdict : null;
    return [
      ...[verdict.gate, verdict.rule, verdict.subject.name, verdict.severity, verdict.status],
      judged?.measured ?? null,
      ...bounds(judged?.limit),
      judged ? marginOf(judged.measured, judged.limit) : null,
      rule ? quantityRow(rule.quantity).units[0].symbol : null,
      ...[line?.label ?? null, line?.why ?? null, line?.source ?? null, line?.remedy ?? null, verdict.digest],
    ];
  });
  return { columns: [...columns, 'words', 'why', 'source', 'remedy', 'digest'], rows };
}

function bounds(limit: Limit | undefined): readonly [number | null, number | null] {
  if (!limit) return [null, null];
  if (limit.kind === 'range') return [limit.low, limit.high];
  return limit.kind === 'min' ? [limit.value, null] : [null, limit.value];
}

function spec({ spec }: PaperFacts): DataTable {
  const branches = sheetSections.map((section) => section.branch);
  // The facts of a signature are the fields of the spec by path; here of all branches, of no gate.
  const all = new Set(spec.limits.map((row) => row.id));
  const facts = coveredFacts(spec, branches, '', all);
  const rows = Object.keys(facts).flatMap((path): readonly (readonly TableValue[])[] => {
    const field = fieldAt(path);
    if (!field) return [];
    const value = facts[path] ?? null;
    const unit = field.kind === 'quantity' ? quantityRow(field.quantity).units[0].symbol : null;
    return [[path, pathWords(path, spec), value, unit, value === null ? '' : formatFact(path, value)]];
  });
  return { columns: ['path', 'field', 'value', 'unit', 'words'], rows };
}

function gates(facts: PaperFacts): DataTable {
  const rows = facts.gates.map((view): readonly TableValue[] => [
    view.gate,
    gateRow(view.gate).title,
    view.state.state,
    stateWords(view),
    blockersOf(view).length,
    facts.plan.find((one) => one.gate === view.gate)?.signs.join(' ') ?? null,
    view.digest,
  ]);
  return { columns: ['gate', 'title', 'state', 'words', 'blockers', 'signs', 'digest'], rows };
}

function signatures(facts: PaperFacts): DataTable {
  const columns = ['seq', 'gate', 'role', 'name', 'meaning', 'at', 'digest', 'hash'] as const;
  return { columns, rows: facts.signatures.map((s) => columns.map((column) => s[column])) };
}

function concessions(facts: PaperFacts): DataTable {
  const columns = ['id', 'verdict', 'title', 'value', 'limit', 'reason', 'by', 'at', 'expires', 'state'] as const;
  return { columns, rows: facts.concessions.map((c) => columns.map((column) => c[column])) };
}

function markups(facts: PaperFacts): DataTable {
  const rows = facts.threads.flatMap((thread) =>
    thread.comments.map((comment): readonly TableValue[] => {
      const [x, y, z] = thread.anchor.at;
      return [thread.n, thread.state, nameOf(facts, comment.by), comment.text, x, y, z, 'm'];
    }),
  );
  return { columns: ['markup', 'state', 'by', 'text', 'x', 'y', 'z', 'unit'], rows };
}
