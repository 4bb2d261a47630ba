/** Where a command writes: the terminal, or a list in a test. */
export interface Console {
  line(text: string): void;
  error(text: string): void;
}

/** The terminal. */
export const processConsole: Console = {
  line: (text) => void process.stdout.write(`${text}\n`),
  error: (text) => void process.stderr.write(`${text}\n`),
};
