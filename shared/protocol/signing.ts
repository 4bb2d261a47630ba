import { z } from 'zod';
import { roles } from '../gates/roles.ts';

/** What a signature on a gate can mean; shown with it for ever. */
export const signingMeanings = ['released', 'witnessed', 'reviewed'] as const;
/** How a signer shows that it is he. */
export const confirmations = ['password', 'passkey'] as const;

const base64url = z
  .string()
  .max(8_192)
  .regex(/^[A-Za-z0-9_-]+$/, 'base64url');

/**
 * Body of POST /api/projects/:id/gates/:gate/challenge: asks for the statement as it will be signed. The digest names the exact facts
 * the signer saw.
 */
export const offerRequestSchema = z.strictObject({
  role: z.enum(roles),
  digest: z.string().regex(/^[0-9a-f]{64}$/),
  ruleSet: z.number().int().positive(),
  meaning: z.enum(signingMeanings),
  /** As the signer types them; they stand in the statement. */
  initials: z
    .string()
    .transform((text) => text.normalize('NFC').trim())
    .refine((text) => /^[\p{L}\p{M}.\- ]{1,8}$/u.test(text), 'initials of 1 to 8 letters'),
  confirmedBy: z.enum(confirmations),
});
/** See {@link offerRequestSchema}. */
export type OfferRequest = z.infer<typeof offerRequestSchema>;

/** Answer: what will be signed, kept for this session until then and for one signature. */
export const offerSchema = z.object({
  nonce: z.string(),
  /** Canonical JSON (RFC 8785), byte for byte. */
  statement: z.string(),
  /** SHA-256 of it, hex: the challenge for a passkey. */
  sha256: z.string(),
  /** ISO 8601. */
  until: z.string(),
  /** The signer's passkeys for this address, if he wants to confirm with one: credential ids. */
  credentials: z.array(z.string()),
  /** Host name they are for. */
  rpId: z.string(),
});
/** See {@link offerSchema}. */
export type OfferView = z.infer<typeof offerSchema>;

/** Body of POST /api/projects/:id/gates/:gate/signatures: the nonce of what was read, and either the password or a passkey's answer to it. */
export const signRequestSchema = z
  .strictObject({
    nonce: z.string().min(1).max(64),
    password: z.string().min(1).max(256).optional(),
    /** Bytes are base64url. */
    assertion: z
      .strictObject({
        credential: base64url,
        clientData: base64url,
        authenticatorData: base64url,
        signature: base64url,
      })
      .optional(),
  })
  .refine(
    ({ password, assertion }) => (password === undefined) !== (assertion === undefined),
    'either a password or a passkey’s assertion',
  );
/** Answer when it was signed. */
export const signedSchema = z.object({ id: z.string(), hash: z.string(), seq: z.number().int() });

/** See {@link signRequestSchema}. */
export type SignRequest = z.infer<typeof signRequestSchema>;
