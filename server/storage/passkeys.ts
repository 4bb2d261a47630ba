/** A key that a device keeps for its owner, to sign gates with. */
export interface Passkey {
  /** Credential id, base64url. */
  readonly id: string;
  readonly accountId: string;
  readonly name: string;
  /** Host name it was made for; it answers to no other. */
  readonly rpId: string;
  /** Public key, JSON of a JWK with its algorithm. */
  readonly key: string;
  /** Uses so far as the device counts them; 0 for devices that do not. */
  readonly counter: number;
  readonly createdAt: string;
  readonly lastUsedAt: string | null;
}

/** The part of the records that passkeys need. */
export interface PasskeyRecords {
  /** `taken` if it is known already, whoever it belongs to. */
  addPasskey(passkey: Passkey): Promise<'added' | 'taken'>;
  /** Oldest first. */
  passkeys(accountId: string): Promise<readonly Passkey[]>;
  passkey(id: string): Promise<Passkey | undefined>;
  touchPasskey(id: string, use: { readonly counter: number; readonly at: string }): Promise<void>;
  /** False if that account has no such key. */
  removePasskey(accountId: string, id: string): Promise<boolean>;
}
