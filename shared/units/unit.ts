/** A unit a person may type or read: value_SI = value * factor + offset. */
export interface Unit {
  /** Shown after the number. */
  readonly symbol: string;
  /** Other spellings accepted when typed; capitals need not match. */
  readonly also?: readonly string[];
  readonly factor: number;
  readonly offset?: number;
  /** Digits shown after the decimal mark. */
  readonly decimals: number;
}

/** A physical quantity; the first unit is the SI one all computing uses, `display` indexes the unit shown by default. */
export interface QuantityRow {
  readonly name: string;
  readonly units: readonly [Unit, ...Unit[]];
  readonly display: number;
}
