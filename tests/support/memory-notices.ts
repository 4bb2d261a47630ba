import {
  type Delivery,
  type Hook,
  type MailAddress,
  type Notice,
  type NoticeRecords,
  type Standing,
  settle,
} from '../../server/storage/notices.ts';

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
const waits = ({ doneAt, givenUpAt }: Delivery): boolean => doneAt === null && givenUpAt === null;

/** Notices and their outbox that end with the process. */
export class MemoryNotices implements NoticeRecords {
  #notices = new Map<string, Notice>();
  #deliveries = new Map<string, Delivery>();
  #hooks = new Map<string, Hook>();
  #addresses = new Map<string, MailAddress>();

  async tell(standing: Standing) {
    const kept = [...this.#notices.values()].filter((one) => one.projectId === standing.projectId);
    const { fresh, revived, over } = settle(kept, standing);
    const deliveries = fresh.length > 0 ? standing.deliveries(fresh) : [];
    for (const one of fresh) this.#notices.set(one.id, one);
    for (const one of revived) this.#notices.set(one.id, { ...one, overAt: null });
    for (const one of over) this.#notices.set(one.id, { ...one, overAt: standing.at });
    for (const one of deliveries) this.#deliveries.set(one.id, one);
    return { fresh, accounts: [...new Set([...fresh, ...revived, ...over].map((one) => one.accountId))] };
  }
  async notices(projectId: string, accountId: string) {
    return [...this.#notices.values()]
      .filter((one) => one.projectId === projectId && one.accountId === accountId && one.overAt === null)
      .sort((a, b) => order(b.at, a.at) || order(a.id, b.id));
  }
  async notice(id: string) {
    return this.#notices.get(id);
  }
  async readNotices(projectId: string, accountId: string, ids: readonly string[], at: string) {
    const unread = ids
      .flatMap((id) => this.#notices.get(id) ?? [])
      .filter((one) => one.projectId === projectId && one.accountId === accountId && one.readAt === null);
    for (const one of unread) this.#notices.set(one.id, { ...one, readAt: at });
    return unread.length;
  }

  async dueDeliveries(at: string, limit: number) {
    return [...this.#deliveries.values()]
      .filter((one) => waits(one) && one.nextAt <= at)
      .sort((a, b) => order(a.nextAt, b.nextAt) || order(a.id, b.id))
      .slice(0, limit);
  }
  async nextDelivery() {
    return [...this.#deliveries.values()]
      .filter(waits)
      .map(({ nextAt }) => nextAt)
      .sort()[0];
  }
  async putDeliveries(deliveries: readonly Delivery[]) {
    for (const one of deliveries) this.#deliveries.set(one.id, one);
  }
  async lastMail(projectId: string, accountId: string) {
    return [...this.#deliveries.values()]
      .filter((one) => one.projectId === projectId && one.way === 'mail' && one.recipient === accountId)
      .flatMap((one) => (one.lastError === null ? (one.doneAt ?? []) : []))
      .sort()
      .at(-1);
  }
  async waitingDeliveries(projectId: string, recipient: string) {
    return [...this.#deliveries.values()]
      .filter((one) => waits(one) && one.projectId === projectId && one.recipient === recipient)
      .sort((a, b) => order(a.createdAt, b.createdAt) || order(a.id, b.id));
  }
  async countDeliveries(recipient: string) {
    const all = [...this.#deliveries.values()].filter((one) => one.recipient === recipient);
    const last = all
      .filter((one) => one.doneAt !== null || one.tries > 0)
      .sort((a, b) => order(b.createdAt, a.createdAt) || order(a.id, b.id))[0];
    return {
      delivered: all.filter(({ doneAt }) => doneAt !== null).length,
      waiting: all.filter(waits).length,
      givenUp: all.filter(({ givenUpAt }) => givenUpAt !== null).length,
      lastError: last?.lastError ?? null,
    };
  }

  async addHook(hook: Hook) {
    this.#hooks.set(hook.id, hook);
  }
  async hook(id: string) {
    return this.#hooks.get(id);
  }
  async hooks(projectId: string) {
    return [...this.#hooks.values()]
      .filter((one) => one.projectId === projectId && one.endedAt === null)
      .sort((a, b) => order(a.createdAt, b.createdAt) || order(a.id, b.id));
  }
  async endHook(projectId: string, id: string, at: string) {
    const hook = this.#hooks.get(id);
    if (!hook || hook.projectId !== projectId || hook.endedAt !== null) return false;
    this.#hooks.set(id, { ...hook, endedAt: at });
    return true;
  }

  async mailAddress(accountId: string) {
    return this.#addresses.get(accountId);
  }
  async putMailAddress(address: MailAddress) {
    this.#addresses.set(address.accountId, address);
  }
  async removeMailAddress(accountId: string) {
    this.#addresses.delete(accountId);
  }
}
