"""Cutting one line of a walk into tokens, for the parser."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import resources

from lark import Lark, Token, Transformer
from lark.common import LexerConf
from lark.lexer import Lexer, PatternStr

from lineproof.job.walk_values import Draft

# Other spellings of one word, read without a murmur and printed as the word itself.
SPELLINGS = {"center": "centre", "true": "drop-out", "dropout": "drop-out", "stubs": "stub"}

_NUM = r"\d+(?:\.\d*)?[¼½¾⅐-⅞]?|\.\d+|[¼½¾⅐-⅞]"
_FRACTION = r"(?:/\d+|(?:[ \t]+|-)\d+/\d+)"
_INCHES = rf"(?:{_NUM}){_FRACTION}?"
_INCH_MARK = r"""(?:"|''|in(?:ch(?:es)?)?(?![\w-]))"""
_UNITS = (
    "mm|cm|km|m|(?:milli|centi)?met(?:re|er)s?|in(?!\\s+plan)|inch(?:es)?|ft|feet|foot|yd|yards?"
    "|deg|degrees?|rad|radians?|°"
)
_TOKEN = re.compile(
    rf"""
    (?P<SPACE>[ \t]+)
  | (?P<COMMA>,)
  | (?P<QUOTED>"(?:[^"]|"")*")
  | (?P<UNCLOSED>".*)
  | (?P<CHAINAGE>[-+]?\d+\+\d+(?:\.\d+)?(?:\s*(?:ft|feet|m)(?![\w-]))?)
  | (?P<RATIO>(?:{_NUM})[ \t]*(?::[ \t]*(?:{_NUM})|[ \t]+in[ \t]+(?:{_NUM})(?!['"\w.])|%)
            |{_INCHES}[ \t]*(?:in(?:ch)?|"|mm|cm|m)[ \t]*(?:/|per[ \t])[ \t]*(?:ft|foot|m)(?![\w-]))
  | (?P<NUMBER>[-+]?(?:
        (?:{_NUM})[ \t]*'(?!')(?:[ \t]*-?[ \t]*{_INCHES}(?!\d*[ \t]*'(?!'))(?:[ \t]*{_INCH_MARK})?)?
      | (?:{_NUM})[ \t]*(?:ft|feet|foot)(?:[ \t]*-?[ \t]*{_INCHES}[ \t]*{_INCH_MARK})
      | {_INCHES}(?:[ \t]*"|[ \t]*''|[ \t]+(?:{_UNITS})(?![\w-])|(?:[^\W\d_°][^\W_°]*)?°?)
    ))
  | (?P<DSIZE>(?:d|dn|nps)[ \t]*\d[\d./]*(?:-\d+/\d+)?(?:in|mm)?(?![\w-]))
  | (?P<WORD>[^\W\d_][\w./+-]*)
  | (?P<JUNK>[^\s,"]+|.)
    """,
    re.VERBOSE | re.IGNORECASE,
)
# After these words a name follows, whatever it looks like: line 12-PW-101, rev 3, lot 7.
_NAMING = frozenset({"DRAWING", "REV", "LINE", "PIPE", "OD", "FOR", "BRANCH", "LOT", "PUT", "AS", "SPOOL"})
_NAME = re.compile(r'(?:(?:sch|sdr|dr|pn|class)[ \t]+\d[\w.]*|[^\s",#]+)', re.IGNORECASE)


def tokens(data: str, names: Mapping[str, str]) -> Iterator[Token]:
    """Yield the tokens of one line; ``start_pos`` counts from 0.

    Parameters
    ----------
    data : str
        The statement.
    names : mapping
        Terminal name to key word.
    """
    words = _by_word(tuple(names.items()))
    before = earlier = ""
    position, length = 0, len(data)
    while position < length:
        kind, text = "", ""
        if (before in _NAMING or earlier == "PIPE") and not data[position].isspace():
            name = _NAME.match(data, position)
            if name:
                kind, text = words.get(name.group().lower(), "NAME"), name.group()
        if not kind:
            found = _TOKEN.match(data, position)
            if found is None:  # a stray break; the reader has refused those
                kind, text = "JUNK", data[position]
            else:
                kind, text = found.lastgroup or "JUNK", found.group()
        if kind == "WORD":
            lower = text.lower()
            kind = words.get(SPELLINGS.get(lower, lower), "WORD")
        elif kind == "DSIZE" and before in _NAMING:
            kind = "NAME"
        if kind != "SPACE":
            yield Token(kind, text, start_pos=position, line=1, column=position + 1)
            before, earlier = kind, before
        position += len(text)


@cache
def _by_word(names: tuple[tuple[str, str], ...]) -> dict[str, str]:
    return {word: name for name, word in names}


class WalkLexer(Lexer):
    """Cuts one line into tokens. What it does not know becomes a token that no rule takes."""

    def __init__(self, lexer_conf: LexerConf) -> None:
        self._names = {
            t.name: t.pattern.value for t in lexer_conf.terminals if isinstance(t.pattern, PatternStr)
        }

    def lex(self, data: str) -> Iterator[Token]:  # type: ignore[override]  # lark's plain-text interface
        """Yield the tokens of one line."""
        return tokens(data, self._names)


def grammar(transformer: Transformer[Token, Draft]) -> Lark:
    """Build the parser of one statement."""
    text = resources.files("lineproof.job").joinpath("walk.lark").read_text("utf-8")
    return Lark(text, parser="lalr", lexer=WalkLexer, transformer=transformer, maybe_placeholders=False)
