import { DuckDBInstance } from '@duckdb/node-api';

/** What a query gives: names, and values as the database has them. */
export interface DuckRows {
  readonly names: readonly string[];
  readonly types: readonly string[];
  readonly rows: readonly (readonly unknown[])[];
}

/** Runs queries one after another in a database of its own; the rows of the last. Another reader and writer of Parquet, which shares nothing with ours. */
export async function duckdb(...queries: readonly string[]): Promise<DuckRows> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    await connection.run("SET TimeZone = 'UTC'");
    let last: DuckRows = { names: [], types: [], rows: [] };
    for (const query of queries) {
      const reader = await connection.runAndReadAll(query);
      last = { names: reader.columnNames(), types: reader.columnTypes().map(String), rows: reader.getRows() };
    }
    return last;
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}
