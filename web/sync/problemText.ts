import type { Problem } from '../../shared/protocol/errors.ts';

/** A refusal of the server as sentences for the person. */
export function problemText({ title, detail, expected, came }: Problem): string {
  const parts = [detail || title, expected && `expected ${expected}`, came && `got ${came}`];
  return parts.flatMap((part) => (part ? [sentence(part)] : [])).join(' ');
}

/** With a capital and a full stop, whoever wrote it. */
function sentence(text: string): string {
  const whole = text.trim();
  return `${whole.charAt(0).toUpperCase()}${whole.slice(1)}${/[.!?]$/.test(whole) ? '' : '.'}`;
}
