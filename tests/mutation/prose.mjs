// What Stryker leaves alone: words for people and the worked examples, which are tests that happen to stand in the source.
// Everything that takes part in a result is mutated: arithmetic, comparisons, branches, tables, ids, message ids, reasons.

/** Members that hold nothing but words for people or the place a figure comes from. */
const words = ['title', 'help', 'source', 'note', 'document', 'validity', 'hazard', 'remedy'];

/** Members of a definition that are the tests of it: executed by `formulas.test.ts`. */
const examples = ['examples'];

/** Member of a rule that holds texts under ids; an id that is not there is found by the rule's table. */
const texts = ['messages'];

const left = new Set([...words, ...examples, ...texts]);
const plain = new Set(['StringLiteral', 'TemplateLiteral']);

/** Name of an object member written out in the source; undefined for any other node. */
function memberName(path) {
  const { type, computed, key } = path.node;
  return type === 'ObjectProperty' && !computed && key.type === 'Identifier' ? key.name : undefined;
}

/** A source of a figure, wherever it is written: an object that says how far to trust it. */
function isSource({ node }) {
  return node.type === 'ObjectExpression' && node.properties.some(({ key }) => key?.name === 'trust');
}

function shouldIgnore(path) {
  if (isSource(path)) return 'source: where a figure comes from, in words';
  const name = memberName(path);
  if (name === undefined) return undefined;
  if (left.has(name)) return `${name}: words for people, or a worked example`;
  // A rule's limit in words; a limit that is a number or a function stays in.
  if (name === 'limit' && plain.has(path.node.value.type)) return 'limit: words for people';
  return undefined;
}

export const strykerPlugins = [{ kind: 'Ignore', name: 'prose', value: { shouldIgnore } }];
