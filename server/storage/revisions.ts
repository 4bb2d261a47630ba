/** A named state of a project's spec. */
export interface Revision {
  readonly id: string;
  readonly projectId: string;
  /** Counts up from 1 within the project. */
  readonly n: number;
  readonly name: string;
  readonly note: string;
  /** Journal number up to which it holds. */
  readonly seq: number;
  /** Of its entries as canonical JSON, by which they lie in the blobs. */
  readonly sha256: string;
  readonly ruleSet: number;
  readonly by: string;
  readonly createdAt: string;
}

/** The part of the records that holds revisions. */
export interface RevisionRecords {
  /** Gives the row its number, one above the last of the project. */
  addRevision(revision: Omit<Revision, 'n'>): Promise<Revision>;
  revision(projectId: string, id: string): Promise<Revision | undefined>;
  /** Newest first. */
  revisions(projectId: string): Promise<readonly Revision[]>;
}
