import { formatSi } from '../units/format.ts';
import { unitList } from '../units/parse.ts';
import { quantityRow } from '../units/quantities.ts';
import type { Field } from './field.ts';
import { branchTitle, collections, groups } from './fields.ts';
import { SPEC_FORMAT, SPEC_VERSION } from './file.ts';
import { isCollectionKey, isGroupKey, tablesOf } from './path.ts';

type Schema = Readonly<Record<string, unknown>>;

function quantitySchema(field: Extract<Field, { kind: 'quantity' }>): Schema {
  const row = quantityRow(field.quantity);
  const si = row.units[0];
  const bounds = `${formatSi(field.quantity, field.min)} to ${formatSi(field.quantity, field.max)}`;
  return {
    title: field.label,
    description: `${field.help} A ${row.name}: text with a unit (${unitList(field.quantity)}), or a ${si.symbol === '1' ? 'plain number' : `number in ${si.symbol}`}. ${bounds}.`,
    oneOf: [
      { type: 'number', minimum: field.min, maximum: field.max },
      {
        type: 'string',
        examples: [formatSi(field.quantity, (field.min + field.max) / 2)],
      },
    ],
  };
}

function fieldSchema(field: Field): Schema {
  const about = { title: field.label, description: field.help };
  switch (field.kind) {
    case 'quantity':
      return quantitySchema(field);
    case 'integer':
      return { ...about, type: 'integer', minimum: field.min, maximum: field.max };
    case 'choice':
      return { ...about, type: 'string', enum: field.options };
    case 'number':
      return { ...about, type: 'number' };
    case 'material':
      return {
        ...about,
        description: `${field.help} One of ${field.options.join(', ')}, or the id of a row of materials.`,
        type: 'string',
        pattern: ID,
      };
    case 'text':
      return { ...about, type: 'string', minLength: 1, maxLength: field.maxLength };
    case 'sequence':
      return { ...about, type: 'string', pattern: '^\\s*\\d+(\\s*[-,; ]\\s*\\d+)*\\s*$' };
  }
}

function rowsSchema(rows: Readonly<Record<string, Field>>, extra: Schema = {}): Schema {
  const properties: Record<string, unknown> = { ...extra };
  for (const key of Object.keys(rows)) {
    const field = rows[key];
    if (field) properties[key] = fieldSchema(field);
  }
  return { type: 'object', additionalProperties: false, properties };
}

const ID = '^[a-z0-9][a-z0-9-]{0,39}$';

const byId = (element: Schema, title: string): Schema => ({
  title,
  type: 'object',
  propertyNames: { pattern: ID },
  additionalProperties: element,
});

const tableTitles: Readonly<Record<string, string>> = {
  nodes: 'Node table',
  points: 'Properties by temperature',
  ruptures: 'Ruptures',
};

const order = { type: 'number', description: 'Place in the order shown.' };

/** JSON Schema (draft 2020-12) of the spec file, made from the field rows. */
export function specJsonSchema(): Schema {
  const properties: Record<string, unknown> = { format: { const: SPEC_FORMAT }, version: { const: SPEC_VERSION } };
  for (const key of Object.keys(groups)) {
    if (isGroupKey(key)) properties[key] = { title: branchTitle(key), ...rowsSchema(groups[key]) };
  }
  for (const key of Object.keys(collections)) {
    if (!isCollectionKey(key)) continue;
    const tables = Object.entries(tablesOf(key)).map(
      ([table, fields]) => [table, byId(rowsSchema(fields, { order }), tableTitles[table] ?? table)] as const,
    );
    properties[key] = byId(
      rowsSchema(collections[key], { order, ...Object.fromEntries(tables) }),
      key === 'limits' ? `${branchTitle(key)}, by the id of the rule` : branchTitle(key),
    );
  }
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Slipjoint spec file',
    type: 'object',
    required: ['format', 'version'],
    additionalProperties: false,
    properties,
  };
}
