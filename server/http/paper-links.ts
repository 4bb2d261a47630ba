import type { Records } from '../storage/ports.ts';

type Settings = Pick<Records, 'setting' | 'putSetting'>;

const allowedKey = (project: string): string => `paper-links:${project}`;
const printedKey = (code: Code): string => `paper:${code.project}:${code.gate}:${code.digest}`;

/** What a code on a paper names. */
export interface Code {
  readonly project: string;
  readonly gate: string;
  /** First 16 hex digits of the gate's digest. */
  readonly digest: string;
}

/** Whether codes on papers of a project answer people who are not signed in; they do until the lead turns it off. */
export async function linksAllowed(settings: Settings, project: string): Promise<boolean> {
  return (await settings.setting(allowedKey(project))) !== 'off';
}

export function allowLinks(settings: Settings, project: string, allowed: boolean): Promise<void> {
  return settings.putSetting(allowedKey(project), allowed ? 'on' : 'off');
}

/** When a code was first printed, ISO 8601, and the journal number of then. */
export interface Printed {
  readonly at: string;
  readonly seq: number;
}

/** Remembers that such codes were printed: one that nobody printed is answered as unknown. */
export async function rememberPrinted(settings: Settings, codes: readonly Code[], { at, seq }: Printed): Promise<void> {
  for (const code of codes) {
    const key = printedKey(code);
    if ((await settings.setting(key)) === undefined) await settings.putSetting(key, `${seq} ${at}`);
  }
}

/** When such a code was first printed; undefined when it never was. */
export async function printedAt(settings: Settings, code: Code): Promise<Printed | undefined> {
  const [seq, at] = (await settings.setting(printedKey(code)))?.split(' ') ?? [];
  return seq === undefined || at === undefined ? undefined : { seq: Number(seq), at };
}
