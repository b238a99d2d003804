"""Which documents hold all of these words? Asked of the database's own full-text search.

Nothing is kept between two searches, so nothing can be out of date: both databases read the documents as
they stand. A word finds every word that begins with it, in small or capital letters and with or without
accents.
"""

import re
import unicodedata

from django.db import connection
from django.db.models import QuerySet

# A hit in the title weighs as much as ten in the rest; PostgreSQL has these weights as A and D.
TITLE_WEIGHT = 10.0
# "Damsons" finds Damson, and "cherries" and "cherry" each other; to cut off too much only finds more.
PLURAL = re.compile(r"(ies|(?<![aeiou])y|(?<=ch|sh|ss)es|(?<!s)s)$", re.IGNORECASE)
ACCENTS = r"[\u0300-\u036f]+"
# PostgreSQL's parser makes one word of "WS-0012", "a/b" or "x.y"; here whatever is no letter and no digit parts.
SEPARATORS = (
    r"[\u0001-/:-@\[-`{-\u00bf\u00d7\u00f7\u060c\u061b\u061f\u2000-\u2bff\u2e00-\u303f"
    r"\ufe10-\ufe6f\U0001f000-\U0001faff]+"
)

SQLITE_TABLE = (
    "CREATE VIRTUAL TABLE temp.searched USING fts5"
    "(noun UNINDEXED, key UNINDEXED, title, words, tokenize = 'unicode61 remove_diacritics 2')"
)
SQLITE_HITS = (
    f"SELECT noun, key, bm25(searched, 0, 0, {TITLE_WEIGHT}, 1.0) AS place "
    "FROM searched WHERE searched MATCH %s ORDER BY place, key DESC"
)
# Most texts have no accents to take away, and taking them away is what costs most.
POSTGRESQL_FOLDED = (
    "lower(CASE WHEN octet_length({0}) = char_length({0}) THEN {0} "
    "ELSE regexp_replace(normalize({0}, NFKD), %s, '', 'g') END)"
)
POSTGRESQL_VECTOR = "setweight(to_tsvector('simple', regexp_replace({0}, %s, ' ', 'g')), '{1}')"
# Rows without the letters looked for are put aside before any is taken apart into words.
# 1: a hit in a long text counts for less than in a short one.
POSTGRESQL_HITS = (
    "WITH searched (noun, key, title, words) AS ({0}), "
    "asked AS (SELECT to_tsquery('simple', %s) AS query), "
    "folded AS MATERIALIZED (SELECT noun, key, "
    f"{POSTGRESQL_FOLDED.format('title')} AS title, {POSTGRESQL_FOLDED.format('words')} AS words "
    "FROM searched), "
    f"read AS MATERIALIZED (SELECT noun, key, {POSTGRESQL_VECTOR.format('title', 'A')} || "
    f"{POSTGRESQL_VECTOR.format('words', 'D')} AS vector "
    "FROM folded WHERE title || ' ' || words LIKE ALL (%s)) "
    "SELECT noun, key, -ts_rank(vector, query, 1) AS place "
    "FROM read, asked WHERE vector @@ query ORDER BY place, key DESC"
)


def beginnings(text: str) -> list[str]:
    """How the words looked for begin: letters and digits without the ending that an English plural changes."""
    words = re.findall(r"[^\W_]+", unicodedata.normalize("NFC", text))
    return [PLURAL.sub("", word) if len(word) > 4 else word for word in words]


def begin(text: str, words: list[str]) -> bool:
    """Whether each of the words begins one of this text."""
    read = re.findall(r"[^\W_]+", folded(text))
    return all(any(one.startswith(folded(word)) for one in read) for word in words)


def folded(text: str) -> str:
    """A text in small letters without accents."""
    return re.sub(ACCENTS, "", unicodedata.normalize("NFKD", text)).lower()


def hits(documents: QuerySet, words: list[str]) -> list[tuple[int, int]]:
    """(noun, key) of the documents that hold words with all these beginnings.

    The best come first, and of equals the newest.
    `documents` are rows of noun, key, title and words.
    """
    sql, values = documents.query.sql_with_params()
    if connection.vendor == "sqlite":
        return _sqlite_hits(sql, values, words)
    return _postgresql_hits(sql, values, words)


def _sqlite_hits(sql: str, values: tuple, words: list[str]) -> list[tuple[int, int]]:
    """The table is this connection's own and temporary; the house's file is only read."""
    query = " ".join(f'"{word}"*' for word in words)
    with connection.cursor() as cursor:
        cursor.execute(SQLITE_TABLE)
        try:
            cursor.execute(f"INSERT INTO temp.searched {sql}", values)
            cursor.execute(SQLITE_HITS, [query])
            return [(noun, key) for noun, key, _ in cursor.fetchall()]
        finally:
            cursor.execute("DROP TABLE temp.searched")


def _postgresql_hits(sql: str, values: tuple, words: list[str]) -> list[tuple[int, int]]:
    letters = [folded(word) for word in words]
    query = " & ".join(f"'{one}':*" for one in letters)
    held = [f"%{one}%" for one in letters]
    more = [query, ACCENTS, ACCENTS, SEPARATORS, SEPARATORS, held]
    with connection.cursor() as cursor:
        cursor.execute(POSTGRESQL_HITS.format(sql), [*values, *more])
        return [(noun, key) for noun, key, _ in cursor.fetchall()]
