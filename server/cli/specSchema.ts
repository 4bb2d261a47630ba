import { specJsonSchema } from '../../shared/spec/jsonSchema.ts';
import type { Console } from './console.ts';

/** Prints the JSON Schema of the spec file. */
export async function specSchema(args: readonly string[], out: Console): Promise<number> {
  if (args.length > 0) {
    out.error(`spec-schema: expected no arguments, got ${args.join(' ')}`);
    return 1;
  }
  out.line(JSON.stringify(specJsonSchema(), null, 2));
  return 0;
}
