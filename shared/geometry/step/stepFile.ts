import type { Vec3 } from '../vector.ts';

/** Reference to an entity of a STEP file: `#12`. */
export type Ref = `#${number}`;

/** A parameter of an entity: a reference, a number, a text, an enumeration or a list of them. */
export type Parameter = Ref | number | Word | Text | readonly Parameter[];
/** Goes into the file as it is: `.T.`, `*`, `$` or an enumeration. */
export interface Word {
  readonly word: string;
}
/** A string, in any characters. */
export interface Text {
  readonly text: string;
}

/** True and false as STEP writes them. */
export const flag = (yes: boolean): Word => ({ word: yes ? '.T.' : '.F.' });
/** A parameter that is left out. */
export const ABSENT: Word = { word: '$' };
/** A name that nobody reads. */
export const UNNAMED: Text = { text: '' };

/** Collects entities of a STEP file in their order. Source: ISO 10303-21, clear text encoding (memory). */
export class StepFile {
  private readonly lines: string[] = [];

  /** Adds an entity and gives the reference to it. */
  add(entity: string, ...parameters: readonly Parameter[]): Ref {
    return this.addRaw(`${entity}(${parameters.map(written).join(',')})`);
  }

  /** Adds an entity of several types at once, each with its parameters. */
  addComplex(...parts: readonly (readonly [entity: string, ...parameters: Parameter[]])[]): Ref {
    return this.addRaw(`(${parts.map(([entity, ...own]) => `${entity}(${own.map(written).join(',')})`).join(' ')})`);
  }

  /** A point; metres in, millimetres in the file. */
  point(p: Vec3): Ref {
    return this.add('CARTESIAN_POINT', UNNAMED, p.map(millimetres));
  }

  /** A unit vector. */
  direction(d: Vec3): Ref {
    return this.add('DIRECTION', UNNAMED, [...d]);
  }

  /** A place with its axis and the direction from which angles count. */
  placement(at: Vec3, axis: Vec3, from: Vec3): Ref {
    return this.add('AXIS2_PLACEMENT_3D', UNNAMED, this.point(at), this.direction(axis), this.direction(from));
  }

  /** The whole file. */
  text(header: { readonly description: string; readonly name: string; readonly time: string }): string {
    const quoted = (text: string): string => written({ text });
    return [
      'ISO-10303-21;',
      'HEADER;',
      `FILE_DESCRIPTION((${quoted(header.description)}),'2;1');`,
      `FILE_NAME(${quoted(header.name)},${quoted(header.time)},(''),(''),'','','');`,
      "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));",
      'ENDSEC;',
      'DATA;',
      ...this.lines,
      'ENDSEC;',
      'END-ISO-10303-21;',
      '',
    ].join('\n');
  }

  private addRaw(entity: string): Ref {
    const ref: Ref = `#${this.lines.length + 1}`;
    this.lines.push(`${ref}=${entity};`);
    return ref;
  }
}

/** Metres as millimetres. */
export const millimetres = (metres: number): number => metres * 1000;

function written(parameter: Parameter): string {
  if (typeof parameter === 'number') return real(parameter);
  if (typeof parameter === 'string') return parameter;
  if ('word' in parameter) return parameter.word;
  if ('text' in parameter) return `'${escaped(parameter.text)}'`;
  return `(${parameter.map(written).join(',')})`;
}

/** Reals need a point; twelve digits are a tenth of a nanometre on a header. */
function real(x: number): string {
  const rounded = Number(x.toPrecision(12));
  const text = Math.abs(rounded) < 1e-12 ? '0' : String(rounded).toUpperCase();
  const [mantissa = '0', exponent] = text.split('E');
  const pointed = mantissa.includes('.') ? mantissa : `${mantissa}.`;
  return exponent === undefined ? pointed : `${pointed}E${exponent}`;
}

/** Apostrophes and backslashes doubled, what is not plain ASCII as UTF-16 in hex. */
function escaped(text: string): string {
  return text
    .replaceAll('\\', '\\\\')
    .replaceAll("'", "''")
    .replace(/[^\x20-\x7e]+/g, (other) => {
      const units = Array.from({ length: other.length }, (_, i) => other.charCodeAt(i).toString(16).padStart(4, '0'));
      return `\\X2\\${units.join('').toUpperCase()}\\X0\\`;
    });
}
