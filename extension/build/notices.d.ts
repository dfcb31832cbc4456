/** @param inputs paths from `root`, as the bundler lists them */
export declare function noticesFor(inputs: readonly string[], root: string): string;
