//! The tables of the index.

use rusqlite::{Connection, Transaction};

/// Changed whenever the tables or what goes into them change, how words are folded too: an index of another form is made anew.
pub(super) const FORM: i64 = 6;

const TABLES: &str = "
    CREATE TABLE upto (number INTEGER NOT NULL);
    CREATE TABLE unread (number INTEGER PRIMARY KEY, texts INTEGER);
    CREATE TABLE record (
        number INTEGER PRIMARY KEY, sum TEXT NOT NULL, at INTEGER NOT NULL, summary TEXT NOT NULL
    );
    CREATE TABLE word (
        what TEXT NOT NULL, word TEXT NOT NULL, number INTEGER NOT NULL, PRIMARY KEY (what, word, number)
    ) WITHOUT ROWID;
    CREATE INDEX word_of ON word (number, what, word);
    CREATE TABLE figure (
        what TEXT NOT NULL, number INTEGER NOT NULL, least REAL NOT NULL, most REAL NOT NULL,
        PRIMARY KEY (what, number)
    ) WITHOUT ROWID;
    CREATE INDEX figure_least ON figure (what, least, most, number);
    CREATE TABLE kept (
        number INTEGER NOT NULL, record TEXT NOT NULL, name TEXT NOT NULL, content TEXT NOT NULL, bytes BLOB NOT NULL,
        PRIMARY KEY (number, name)
    );
    CREATE VIRTUAL TABLE text USING fts5 (
        words, content = '', contentless_delete = 1, tokenize = 'unicode61 remove_diacritics 2'
    );
";

/// Sets a connection up: it waits for another writer, and syncs no oftener than it must, since an index that a
/// power loss spoils is made anew.
pub(super) fn prepare(connection: &Connection) -> rusqlite::Result<()> {
    connection.busy_timeout(std::time::Duration::from_secs(60))?;
    connection.pragma_update(None, "synchronous", "NORMAL")?;
    // Nothing of a damaged or foreign file is trusted to run.
    connection.pragma_update(None, "trusted_schema", "OFF")
}

/// Whether the tables are of this form.
pub(super) fn is_known(connection: &Connection) -> rusqlite::Result<bool> {
    let form: i64 = connection.query_row("PRAGMA user_version", [], |row| row.get(0))?;
    Ok(form == FORM)
}

/// Makes the tables anew, empty.
pub(super) fn make(transaction: &Transaction<'_>) -> rusqlite::Result<()> {
    for name in ["upto", "unread", "record", "word", "figure", "kept", "text"] {
        transaction.execute_batch(&format!("DROP TABLE IF EXISTS {name}"))?;
    }
    transaction.execute_batch(TABLES)?;
    transaction.pragma_update(None, "user_version", FORM)
}
