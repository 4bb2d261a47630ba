/** What the keep chip is made from. */
export interface KeepInputs {
  readonly link: 'connecting' | 'connected' | 'offline';
  /** Edits of this device the server has not confirmed. */
  readonly unconfirmed: number;
  /** Edits the device itself has not committed yet. */
  readonly unkept: number;
  /** Journal number of this device's last confirmed edit of the spec. */
  readonly specSeq: number;
  /** Journal number up to which the server's rules have run. */
  readonly checkedSeq: number;
}

export interface KeepChip {
  readonly state: 'sent' | 'writing' | 'here' | 'shop' | 'checked';
  readonly text: string;
}

/** Where the edits are, in one word. "Checked" speaks of the spec only: markups are kept, not checked. */
export function keepChip({ link, unconfirmed, unkept, specSeq, checkedSeq }: KeepInputs): KeepChip {
  if (unconfirmed > 0 && link === 'connected') return { state: 'sent', text: `SENT ${unconfirmed}` };
  if (unkept > 0) return { state: 'writing', text: `KEEPING HERE ${unkept}` };
  if (unconfirmed > 0) return { state: 'here', text: `KEPT HERE ${unconfirmed}` };
  if (checkedSeq >= specSeq) return { state: 'checked', text: `CHECKED #${checkedSeq}` };
  return { state: 'shop', text: `KEPT AT SHOP #${specSeq}` };
}
