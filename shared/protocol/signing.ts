import { z } from 'zod';
import { roles } from '../gates/roles.ts';

/** What a signature on a gate can mean; shown with it for ever. */
export const signingMeanings = ['released', 'witnessed', 'reviewed'] as const;

/** Body of POST /api/projects/:id/gates/:gate/signatures. The digest names the exact facts the signer saw. */
export const signRequestSchema = z.strictObject({
  role: z.enum(roles),
  digest: z.string().regex(/^[0-9a-f]{64}$/),
  ruleSet: z.number().int().positive(),
  meaning: z.enum(signingMeanings),
  password: z.string().min(1).max(256),
});
/** Answer when it was signed. */
export const signedSchema = z.object({ id: z.string(), hash: z.string(), seq: z.number().int() });

/** See {@link signRequestSchema}. */
export type SignRequest = z.infer<typeof signRequestSchema>;
