/// <reference types="vite/client" />

interface ImportMetaEnv {
  /** A hash of the code (vite.config.ts). */
  readonly SWARD_CODE?: string;
}
