/** What is used of the package verovio, which brings no types. */
declare module 'verovio/wasm' {
  /** Loads the engraver, compiled to WebAssembly. */
  export default function createVerovioModule(): Promise<object>;
}

declare module 'verovio/esm' {
  /** https://book.verovio.org/toolkit-reference/toolkit-methods.html */
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: Readonly<Record<string, string | number | boolean>>): void;
    loadData(score: string): number | boolean;
    getPageCount(): number;
    renderToSVG(page: number): string;
  }
}
