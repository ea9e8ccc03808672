import type { SqlDriverAdapterFactory } from '@prisma/driver-adapter-utils';
import type { Parameter } from './values.ts';

/** What the database says through open.ts: all text, whatever is worth telling a person who runs the service. */
export type DatabaseLogger = {
  info(details: object, message: string): void;
  warn(details: object, message: string): void;
  error(details: object, message: string): void;
  fatal(details: object, message: string): void;
};

/**
 * One statement with parameters. The name belongs to the text for good: the server keeps the statement prepared under it.
 * Instants come back as Date, local days as text, whole numbers as number (bigint beyond 2^53), numeric as text.
 */
export type RawQuery = <T = Record<string, unknown>>(name: string, text: string, params?: readonly Parameter[]) => Promise<T[]>;

/** A connection for the migration runner. */
export type AdminConnection = {
  query<T>(text: string, params?: readonly Parameter[]): Promise<T[]>;
  /** Everything inside is kept or nothing is. exec takes a whole script. */
  transaction<T>(work: (inner: Pick<AdminConnection, 'query'> & { exec(script: string): Promise<void> }) => Promise<T>): Promise<T>;
};

/** The part of a database that differs between the embedded one and a server. */
export type Backend = {
  kind: 'embedded' | 'server';
  adapter: SqlDriverAdapterFactory;
  query: RawQuery;
  /** One connection; committed when work resolves, undone when it rejects. */
  rawTransaction<T>(work: (query: RawQuery) => Promise<T>): Promise<T>;
  /** A connection that no other holder of this lock has at the same time, in any process. */
  admin<T>(work: (connection: AdminConnection) => Promise<T>): Promise<T>;
  close(): Promise<void>;
};
