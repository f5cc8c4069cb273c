export declare const nodeFault: (version: string, range: string) => string | null;
