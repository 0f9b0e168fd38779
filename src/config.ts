/** The configuration: read once from the environment, checked, and never changed afterwards. */
import { z } from 'zod';

const logLevels = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'] as const;

export type Config = {
  /** Address to listen on: loopback unless somebody says otherwise. */
  readonly host: string;
  /** Port to listen on; 0 lets the system choose. */
  readonly port: number;
  /** Folder of the database. */
  readonly dataDir: string;
  readonly logLevel: (typeof logLevels)[number];
  /** The origin under which people reach the server, when it is not the address it listens on; null when unset. */
  readonly publicUrl: string | null;
};

const Environment = z.object({
  HOST: z
    .string()
    .regex(/^[A-Za-z0-9.:_-]+$/, 'HOST must be a host name or an address, such as 127.0.0.1 or 0.0.0.0')
    .default('127.0.0.1'),
  PORT: z
    .string()
    .regex(/^\d{1,5}$/, 'PORT must be a whole number from 0 to 65535')
    .transform(Number)
    .refine((port) => port <= 65_535, 'PORT must be a whole number from 0 to 65535')
    .default(3000),
  DATA_DIR: z.string().default('./data'),
  LOG_LEVEL: z.enum(logLevels, { error: `LOG_LEVEL must be one of ${logLevels.join(', ')}` }).default('info'),
  PUBLIC_URL: z
    .string()
    .refine(
      isOrigin,
      'PUBLIC_URL must be http:// or https:// and a host, with nothing after it, such as https://band.example.org',
    )
    .transform((text) => new URL(text).origin)
    .optional(),
});

/** A configuration that does not fit: one sentence for each variable that is wrong. */
export class ConfigError extends Error {
  readonly sentences: readonly string[];

  /** @param sentences one for each variable that is wrong */
  constructor(sentences: readonly string[]) {
    super(sentences.join('\n'));
    this.name = 'ConfigError';
    this.sentences = sentences;
  }
}

/**
 * Reads the configuration from environment variables; an empty variable counts as unset.
 * @param environment the variables, usually process.env
 * @throws ConfigError with one sentence for each variable that is wrong
 */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): Config {
  const given = Object.fromEntries(
    Object.keys(Environment.shape)
      .map((name) => [name, environment[name]?.trim()] as const)
      .filter(([, value]) => value !== undefined && value !== ''),
  );
  const parsed = Environment.safeParse(given);
  if (!parsed.success) {
    throw new ConfigError(
      parsed.error.issues.map((issue) => `${issue.message} (it is "${given[String(issue.path[0])]}").`),
    );
  }
  const { HOST, PORT, DATA_DIR, LOG_LEVEL, PUBLIC_URL } = parsed.data;
  return Object.freeze({
    host: HOST,
    port: PORT,
    dataDir: DATA_DIR,
    logLevel: LOG_LEVEL,
    publicUrl: PUBLIC_URL ?? null,
  });
}

function isOrigin(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const url = new URL(text);
  const isWeb = url.protocol === 'http:' || url.protocol === 'https:';
  return isWeb && url.pathname === '/' && url.search === '' && url.hash === '' && url.username === '';
}
