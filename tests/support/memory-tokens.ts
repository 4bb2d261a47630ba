import type { ApiToken, KeptAnswer, TokenRecords } from '../../server/storage/tokens.ts';

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Tokens and kept answers that end with the process. */
export class MemoryTokens implements TokenRecords {
  #tokens = new Map<string, ApiToken>();
  #answers = new Map<string, KeptAnswer>();

  async addToken(token: ApiToken) {
    this.#tokens.set(token.id, token);
  }
  async token(id: string) {
    return this.#tokens.get(id);
  }
  async tokens(projectId: string) {
    return [...this.#tokens.values()]
      .filter((token) => token.projectId === projectId)
      .sort((a, b) => order(b.createdAt, a.createdAt) || order(a.id, b.id));
  }
  async touchToken(id: string, at: string) {
    const token = this.#tokens.get(id);
    if (token) this.#tokens.set(id, { ...token, lastUsedAt: at });
  }
  async revokeToken(projectId: string, id: string, at: string) {
    const token = this.#tokens.get(id);
    if (!token || token.projectId !== projectId || token.revokedAt !== null) return false;
    this.#tokens.set(id, { ...token, revokedAt: at });
    return true;
  }
  /** All of one person in one project. */
  revokeOf(projectId: string, accountId: string, at: string) {
    for (const token of this.#tokens.values())
      if (token.projectId === projectId && token.accountId === accountId && token.revokedAt === null)
        this.#tokens.set(token.id, { ...token, revokedAt: at });
  }
  async keptAnswer(id: string) {
    return this.#answers.get(id);
  }
  async keepAnswer(answer: KeptAnswer) {
    this.#answers.set(answer.id, answer);
  }
  async forgetAnswers(at: string) {
    const old = [...this.#answers.values()].filter((answer) => answer.at < at);
    for (const { id } of old) this.#answers.delete(id);
    return old.length;
  }
}
