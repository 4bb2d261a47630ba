import { Room, type RoomDeps } from './room.ts';

/** How often a journal that failed is tried again, ms. */
const RETRY_MS = 2_000;

/** How long a room nobody is in stays open, ms: a reload of the page must find it warm. */
const LINGER_MS = 60_000;

/** Open rooms, one per project. */
export class RoomRegistry {
  private readonly rooms = new Map<string, Promise<Room>>();
  private readonly asked = new Map<string, number>();
  private readonly deps: RoomDeps;
  private readonly timer: NodeJS.Timeout;
  private retrying: NodeJS.Timeout | null = null;

  constructor(deps: RoomDeps) {
    this.deps = { ...deps, notKept: (reason) => this.notKept(reason) };
    this.timer = setInterval(() => void this.sweep(), LINGER_MS);
    this.timer.unref();
  }

  /** The project's room, opened when it is not yet. Rejects when its journal cannot be read; the next call tries again. */
  open(project: string): Promise<Room> {
    this.asked.set(project, this.deps.now());
    const there = this.rooms.get(project);
    if (there) return there;
    const opening = Room.open(project, this.deps);
    this.rooms.set(project, opening);
    opening.then(
      () => this.deps.noted?.(project),
      () => this.rooms.delete(project),
    );
    return opening;
  }

  /** Ends the document sockets of an account whose rights in a project changed. */
  async expel(project: string, account: string): Promise<void> {
    (await this.rooms.get(project))?.expel(account);
  }

  /** Ends the document sockets of a session, in whatever projects. */
  async endSession(session: string): Promise<void> {
    for (const room of await Promise.allSettled(this.rooms.values()))
      if (room.status === 'fulfilled') room.value.endSession(session);
  }

  async close(): Promise<void> {
    clearInterval(this.timer);
    if (this.retrying) clearInterval(this.retrying);
    for (const room of await Promise.allSettled(this.rooms.values()))
      if (room.status === 'fulfilled') room.value.close();
    this.rooms.clear();
  }

  private async sweep(): Promise<void> {
    for (const [project, opening] of this.rooms) {
      const room = await opening.catch(() => null);
      // Whoever asked a moment ago may still be on the way in.
      if (!room?.idle() || this.deps.now() - (this.asked.get(project) ?? 0) < LINGER_MS) continue;
      this.rooms.delete(project);
      this.asked.delete(project);
      room.close();
    }
  }

  /** One journal serves all projects: all are told, and it is tried until it takes writes again. */
  private notKept(reason: string): void {
    if (this.retrying) return;
    this.tell(reason);
    this.retrying = setInterval(() => void this.retry(), RETRY_MS);
    this.retrying.unref();
  }

  private async retry(): Promise<void> {
    try {
      if (this.deps.journal.readOnly) await this.deps.journal.recover();
    } catch (error) {
      this.deps.warn('journal-still-failing', { error: String(error) });
      return;
    }
    if (this.retrying) clearInterval(this.retrying);
    this.retrying = null;
    this.tell(null);
  }

  private tell(trouble: string | null): void {
    for (const project of this.rooms.keys()) this.deps.feed.trouble(project, trouble);
  }
}
