import { z } from 'zod';

/** A passkey as its owner sees it listed. */
export const passkeySchema = z.object({
  id: z.string(),
  name: z.string(),
  /** Host name it works at. */
  rpId: z.string(),
  createdAt: z.string(),
  lastUsedAt: z.string().nullable(),
});
/** See {@link passkeySchema}. */
export type PasskeyView = z.infer<typeof passkeySchema>;
/** Answer of GET /api/account/passkeys. */
export const passkeyListSchema = z.object({ passkeys: z.array(passkeySchema) });

/** Body of POST /api/account/passkeys/challenge: the password once more, before a device becomes able to sign. */
export const passkeyWishSchema = z.strictObject({ password: z.string().min(1).max(256) });
/** Answer: options for the browser (Web Authentication, level 3, 5.1.8: PublicKeyCredentialCreationOptionsJSON). */
export const passkeyOptionsSchema = z.looseObject({ challenge: z.string() });

/** Body of POST /api/account/passkeys. */
export const newPasskeySchema = z.strictObject({
  name: z
    .string()
    .transform((text) => text.normalize('NFC').trim())
    .refine((text) => text.length >= 1 && text.length <= 60, '1 to 60 characters'),
  /** What the browser answered (RegistrationResponseJSON). */
  response: z.looseObject({
    id: z.string().max(2_048),
    rawId: z.string().max(2_048),
    type: z.literal('public-key'),
    response: z.looseObject({ clientDataJSON: z.string().max(8_192), attestationObject: z.string().max(65_536) }),
  }),
});
/** See {@link newPasskeySchema}. */
export type NewPasskey = z.infer<typeof newPasskeySchema>;
