import type Database from 'better-sqlite3';
import type { CompiledQuery } from 'kysely';

/** What the query builder gives: something that compiles to SQL and its values. */
export type Compilable<Row> = { compile(): CompiledQuery<Row> };

/** Stands in a query for a value that is given when the query is run. */
class Place {
  readonly name: string;

  constructor(name: string) {
    this.name = name;
  }
}

/** A place for a value in a query that is compiled once and run often: it fits wherever the query takes a value. */
export function place(name: string): never {
  return new Place(name) as never;
}

/** A query compiled and prepared once. `first` and `all` take the values of its places by name. */
export type PreparedQuery<Row> = {
  first(values: Record<string, string | number>): Row | undefined;
  all(values: Record<string, string | number>): Row[];
};

/** Compiles and prepares a query. Compiling anew for every read would cost more than the read itself. */
export function prepareQuery<Row>(database: Database.Database, query: Compilable<Row>): PreparedQuery<Row> {
  const { sql, parameters } = query.compile();
  const statement = database.prepare<unknown[], Row>(sql);
  const fill = (values: Record<string, string | number>) =>
    parameters.map((parameter) => (parameter instanceof Place ? values[parameter.name] : parameter));
  return {
    // The driver builds a row maker with each `all`, which one row is not worth.
    first: (values) => statement.get(...fill(values)),
    all: (values) => statement.all(...fill(values)),
  };
}
