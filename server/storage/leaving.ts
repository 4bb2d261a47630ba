/** The last lead cannot go: nobody could let anybody in again. */
export type Leaving = 'removed' | 'not-there' | 'last-lead';

/** The part of the records in which people leave a project. */
export interface LeavingRecords {
  /** Takes the person out, revokes their tokens and the invites they made that are still open. What they did stays. */
  removeMember(projectId: string, accountId: string, at: string): Promise<Leaving>;
}
