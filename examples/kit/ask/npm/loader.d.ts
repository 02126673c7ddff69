/** The module: bytes, a Response, the promise of one, or the base64 of it, with gzip or without. */
export type Source = Response | ArrayBuffer | ArrayBufferView | WebAssembly.Module | string | Promise<Response | ArrayBuffer | ArrayBufferView | WebAssembly.Module | string>;

/** Thrown for a question that has no answer. What there is not is null. */
export class Refused extends Error {
  kind: string | null;
  where: string | null;
  column: number | null;
  found: string | null;
  write: string | null;
}

/** Thrown by a module that ended. */
export class Broken extends Error {}

export interface Library {
  /** Asks a question by its name. */
  call(question: string, asked: unknown): unknown;
  /** Asks with a whole document, as text. */
  ask(document: string): string;
  /** The bytes of memory that the module holds. */
  readonly size: number;
}

export function open(source: Source): Promise<Library>;
