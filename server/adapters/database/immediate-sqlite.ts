import type { Database as SqliteFile } from 'better-sqlite3';
import { CompiledQuery, SqliteAdapter, SqliteDriver, SqliteIntrospector, SqliteQueryCompiler } from 'kysely';
import type { Dialect } from 'kysely';

/**
 * SQLite whose transactions take the right to write when they begin. One that only reads first is thrown out when another
 * process writes in between, and a backup does write a row of the audit log. Source: [SQLITE-WAL], isolation.
 */
export const immediateSqlite = (file: SqliteFile): Dialect => ({
  createAdapter: () => new SqliteAdapter(),
  createDriver() {
    const driver = new SqliteDriver({ database: file });
    driver.beginTransaction = async (connection) => {
      await connection.executeQuery(CompiledQuery.raw('begin immediate'));
    };
    return driver;
  },
  createIntrospector: (db) => new SqliteIntrospector(db),
  createQueryCompiler: () => new SqliteQueryCompiler(),
});
