import { refuse } from './problem.ts';

/** An element of the XML part of an E57 file. */
export interface XmlElement {
  /** Without its prefix. */
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlElement[];
  /** Text between the tags, trimmed; entities are left as they are: only numbers are read. */
  readonly text: string;
}

/** Depth and number of elements beyond which nothing is a scan (own: real files have 8 levels and some thousands of elements). */
const MOST_DEPTH = 40;
const MOST_ELEMENTS = 200_000;

interface Growing {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: Growing[];
  text: string;
}

/** Skips from a place to behind a mark; refuses when it never comes. */
function past(xml: string, mark: string, from: number): number {
  const at = xml.indexOf(mark, from);
  if (at < 0) refuse('malformed', `Expected "${mark}" in the XML part of the E57 file, found none.`);
  return at + mark.length;
}

/** Reads the elements of an XML text: no document types and no entities, which E57 has no use for. Linear in the text. */
export function readXml(xml: string): XmlElement {
  const top: Growing = { name: '', attributes: new Map(), children: [], text: '' };
  const open: Growing[] = [top];
  let elements = 0;
  for (let at = 0; at < xml.length; ) {
    const current = open.at(-1) ?? top;
    const tag = xml.indexOf('<', at);
    current.text += xml.slice(at, tag < 0 ? xml.length : tag).trim();
    if (tag < 0) break;
    if (xml.startsWith('<!--', tag)) at = past(xml, '-->', tag);
    else if (xml.startsWith('<![CDATA[', tag)) at = past(xml, ']]>', tag);
    else if (xml.startsWith('<?', tag)) at = past(xml, '?>', tag);
    else if (xml.startsWith('<!', tag)) refuse('unsupported', 'Expected E57 XML without a document type, got one.');
    else {
      at = past(xml, '>', tag);
      const inner = xml.slice(tag + 1, at - 1);
      if (inner.startsWith('/')) close(open, inner.slice(1).trim());
      else {
        const made = elementOf(inner);
        current.children.push(made);
        if (!inner.endsWith('/')) open.push(made);
        if (open.length > MOST_DEPTH || ++elements > MOST_ELEMENTS)
          refuse('unsupported', `Expected at most ${MOST_ELEMENTS} XML elements in ${MOST_DEPTH} levels, got more.`);
      }
    }
  }
  const [root] = top.children;
  if (!root || open.length > 1)
    return refuse('malformed', 'Expected closed XML elements in the E57 file, it ends within one.');
  return root;
}

function close(open: Growing[], word: string): void {
  const done = open.pop();
  if (!done || open.length === 0 || done.name !== localName(word))
    refuse(
      'malformed',
      `Expected the XML element "${done?.name.slice(0, 40)}" to end, got the end of "${word.slice(0, 40)}".`,
    );
}

const localName = (word: string): string => word.slice(word.indexOf(':') + 1);

function elementOf(inner: string): Growing {
  const body = inner.endsWith('/') ? inner.slice(0, -1) : inner;
  const space = body.search(/\s/);
  const name = localName(space < 0 ? body : body.slice(0, space));
  const attributes = new Map<string, string>();
  if (space >= 0)
    for (const [, key = '', quoted = '', single = ''] of body
      .slice(space)
      .matchAll(/([\w:.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g))
      attributes.set(key, quoted || single);
  return { name, attributes, children: [], text: '' };
}

/** The child of that name. */
export const child = (of: XmlElement | undefined, name: string): XmlElement | undefined =>
  of?.children.find((one) => one.name === name);

/** A number in an element: 0 where it is empty, as the standard has it; `missing` where there is no element. */
export function numberIn(element: XmlElement | undefined, missing: number): number {
  if (!element) return missing;
  const value = element.text === '' ? 0 : Number(element.text);
  if (!Number.isFinite(value))
    refuse(
      'malformed',
      `Expected a finite number in "${element.name.slice(0, 40)}", got "${element.text.slice(0, 40)}".`,
    );
  return value;
}
