/** What is wrong with a date of a record, or null: `YYYY-MM-DD`, a day there is. */
export function dateProblem(date: string): string | null {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) ?? [];
  const numbers = [Number(year), Number(month), Number(day)];
  const [y = Number.NaN, m = Number.NaN, d = Number.NaN] = numbers;
  if (m >= 1 && m <= 12 && d >= 1 && d <= daysIn(y, m)) return null;
  return `expected a date as YYYY-MM-DD, for example 2027-05-14, got "${date}"`;
}

function daysIn(year: number, month: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
}
