const ID = /^[a-z0-9][a-z0-9-]{0,39}$/;

/** True for a well-formed element, node or checklist id. */
export function isId(id: string): boolean {
  return ID.test(id);
}
