"""A document as one web page that needs nothing else: no script, no picture, nothing from outside.

It prints like paper.

The same document gives the same bytes. Text of people is text: every cell is escaped, and no link
is made of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from tracker.reports.document import RIGHT, UNBROKEN, Cell, Column, Document, Part, shown
from tracker.values.problems import one_line

STYLE = """
body { font: 14px/1.4 sans-serif; color: #111; background: #fff; max-width: 78rem;
  margin: 1.5rem auto; padding: 0 1rem; }
h1 { font-size: 1.6rem; margin: 0 0 .5rem; } h2 { font-size: 1.1rem; margin: 2rem 0 .4rem; }
dl { display: grid; grid-template-columns: 7rem 1fr; margin: 0; } dd { margin: 0; }
.table { overflow-x: auto; } table { border-collapse: collapse; min-width: 60%; }
th { text-align: left; vertical-align: bottom; border-bottom: 2px solid #111; }
th.group { text-align: center; border-bottom-width: 1px; }
th, td { padding: .2rem .6rem .2rem 0; } td { vertical-align: top; border-bottom: 1px solid #bbb; }
.n { text-align: right; font-variant-numeric: tabular-nums; } .u { white-space: nowrap; }
tfoot td { font-weight: bold; border-top: 2px solid #111; border-bottom: 2px solid #111; }
.note { font-size: .85rem; } .sign { margin-top: 2.5rem; }
footer { margin-top: 2.5rem; border-top: 2px solid #111; font-size: .85rem; }
@media print { body { max-width: none; margin: 0; font-size: 9pt; }
  thead { display: table-header-group; }
  tr { break-inside: avoid; } h2 { break-after: avoid; } .new { break-before: page; } }
"""


def html(document: Document) -> bytes:
    """The document as a page in UTF-8."""
    title = text(f"{document.title} - {document.project}" if document.project else document.title)
    heads = "".join(
        f"<dt>{text(name)}</dt><dd>{text(words)}</dd>" for name, words in document.heads()
    )
    parts = "\n".join(section(part, place > 0) for place, part in enumerate(document.parts))
    notes = "".join(f"<li>{text(words)}</li>" for words in document.cautions)
    page = f"""<!DOCTYPE html>
<html lang="en-US">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}</title>
<style>{STYLE}</style>
</head>
<body>
<h1>{text(document.title)}</h1>
<dl>{heads}</dl>
{parts}
<footer><h2>Please note</h2><ul>{notes}</ul></footer>
</body>
</html>
"""
    return page.encode("utf-8")


def text(words: str) -> str:
    """Words as a page shows them; nothing in them acts."""
    return escape(one_line(words), quote=True)


def section(part: Part, later: bool) -> str:
    """One part: its title, its words, its table, its note, its lines to sign on."""
    new = ' class="new"' if part.new_page and later else ""
    found = [f'<section{new} id="{text(part.key)}">']
    if part.title:
        found.append(f"<h2>{text(part.title)}</h2>")
    found += [f"<p>{text(words)}</p>" for words in part.words]
    if part.rows:
        found.append(f'<div class="table">{table(part)}</div>')
    elif part.empty:
        found.append(f"<p>{text(part.empty)}</p>")
    if part.note:
        found.append(f'<p class="note">{text(part.note)}</p>')
    line, dated = "_" * 30, "_" * 14
    found += [f'<p class="sign">{text(what)}: {line} Date: {dated}</p>' for what in part.sign]
    return "\n".join([*found, "</section>"])


def table(part: Part) -> str:
    """The table of a part. Where paper tells a page, the last cell leads to the part itself."""
    rows = "\n".join(
        row(part.columns, cells, begins(part, place)) for place, cells in enumerate(part.rows)
    )
    foot = f"<tfoot>{row(part.columns, part.foot)}</tfoot>" if part.foot else ""
    heads = "".join(headings(part.columns))
    head = f"<thead>{heads}</thead>" if heads else ""
    return f"<table>{head}<tbody>\n{rows}\n</tbody>{foot}</table>"


def begins(part: Part, place: int) -> str:
    """The part to which a row leads; nothing where it stands in no part of the document itself."""
    key = part.begins[place] if place < len(part.begins) else ""
    return "" if ":" in key else key


def headings(columns: Sequence[Column]) -> Iterator[str]:
    """The row of groups where there is any, and the row of titles; nothing where no column has a
    title.
    """
    if not any(column.title for column in columns):
        return
    if any(column.group for column in columns):
        cells, place = [], 0
        while place < len(columns):
            last = place
            while last + 1 < len(columns) and columns[last + 1].group == columns[place].group:
                last += 1
            name = columns[place].group
            kind = ' class="group"' if name else ""
            cells.append(f'<th{kind} colspan="{last - place + 1}">{text(name)}</th>')
            place = last + 1
        yield f"<tr>{''.join(cells)}</tr>"
    titles = "".join(f'<th{kind_of(c)} scope="col">{text(c.title)}</th>' for c in columns)
    yield f"<tr>{titles}</tr>"


def row(columns: Sequence[Column], cells: Sequence[Cell], leads_to: str = "") -> str:
    """One row; leads_to: the part that its last cell leads to."""
    made = [
        f"<td{kind_of(c)}>{text(shown(cell, c.kind))}</td>"
        for c, cell in zip(columns, cells, strict=True)
    ]
    if leads_to:
        made[-1] = f'<td><a href="#{text(leads_to)}">below</a></td>'
    return f"<tr>{''.join(made)}</tr>"


def kind_of(column: Column) -> str:
    """How a column's cells stand: figures to the right, what is short unbroken."""
    classes = [name for name, kinds in (("n", RIGHT), ("u", UNBROKEN)) if column.kind in kinds]
    return f' class="{" ".join(classes)}"' if classes else ""
