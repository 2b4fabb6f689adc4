# SPDX-License-Identifier: GPL-3.0-or-later
"""Words that no dictionary of a language knows (hunspell with its lists), for the tests of sentences and of what the program shows."""
import pathlib
import re
import subprocess

LISTS = pathlib.Path(__file__).parent / "house/spelling"
DICTIONARIES = {"english": "en_GB", "german": "de_DE"}


def words_in(texts):
    """Words of three letters and more; keys, options, expressions and names of files are none."""
    found = set()
    for text in texts:
        text = re.sub(r"[“„][^“”]*[“”]", " ", text)  # quoted from elsewhere
        text = re.sub(r"\b[a-z0-9]+(?:-[a-z0-9]+)+\b", " ", text)  # ids of figures, kinds, cases
        text = re.sub(r"\S*[_/=@]\S*|--?[a-z][\w-]*|\b\w+\.\w+\b", " ", text)
        found |= set(re.findall(r"(?<!\w)[^\W\d_]{3,}(?!\w)", text))
    return found


def unknown(words, language):
    run = subprocess.run(["hunspell", "-i", "utf-8", "-d", DICTIONARIES[language], "-l"], input="\n".join(sorted(words)), text=True,
                         capture_output=True, encoding="utf-8", check=True)
    return set(run.stdout.split("\n")) & set(words)


def list_of(language):
    """The trade's words and names that sentences and documents use and the dictionary lacks."""
    return LISTS / f"{language}.txt"


def allowed(language):
    return set(list_of(language).read_text(encoding="utf-8").split())


def names_in(toml):
    """Parts of keys, names of tables and values of one word: they are shown as they stand, in any language."""
    found = set()
    for line in toml.split("\n"):
        line = re.sub(r'"[^"]* [^"]*"', " ", line.split("#")[0])
        found |= set(re.findall(r"[^\W\d_]{3,}", line))
    return found
