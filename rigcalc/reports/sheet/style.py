"""The look of the report on a screen and on paper. Colours only ever repeat what a word says."""

from __future__ import annotations

from typing import Final

CSS: Final = """
:root {
  color-scheme: light dark;
  --paper: #fdfdfb; --ink: #1b2630; --soft: #55626d; --line: #d5dade; --band: #f1f3f2;
  --link: #0a5c9c; --good: #1f6a4a; --bad: #a82a1a; --care: #8a5a00; --care-band: #fdf5e2;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #161c22; --ink: #e4e8ea; --soft: #a3afb8; --line: #3a454e; --band: #202830;
    --link: #8cc4f2; --good: #7fd0a8; --bad: #ff9d8c; --care: #f0c674; --care-band: #2b2618;
  }
}
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; scroll-behavior: smooth; }
@media (prefers-reduced-motion: reduce) { html { scroll-behavior: auto; } }
body {
  margin: 0; background: var(--paper); color: var(--ink);
  font: 1rem/1.55 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "DejaVu Sans", sans-serif;
  overflow-wrap: break-word;
}
.page { max-width: 62rem; margin: 0 auto; padding: 1rem 1.1rem 4rem; }
h1, h2, h3, h4 { line-height: 1.25; text-wrap: balance; scroll-margin-top: .75rem; }
h1 { font-size: 1.7rem; margin: 1rem 0 .25rem; }
h2 { font-size: 1.35rem; margin: 3.2rem 0 .8rem; padding-top: .7rem; border-top: 2px solid var(--ink); }
h3 { font-size: 1.08rem; margin: 2rem 0 .5rem; }
h4 { font-size: 1rem; margin: 1.4rem 0 .4rem; }
p, ul { margin: .6rem 0; max-width: 46rem; }
ul { padding-left: 1.3rem; }
li { margin: .3rem 0; }
a { color: var(--link); text-underline-offset: .15em; }
.under { color: var(--soft); margin: 0 0 1rem; }
.lead { font-size: 1.15rem; }
.note { color: var(--soft); font-size: .92rem; }
.mark { font-weight: 700; }
.good { color: var(--good); } .bad { color: var(--bad); }
.quiet { color: var(--soft); font-weight: 400; font-style: italic; }
.bad::before { content: "\\25b2\\00a0"; font-size: .75em; }
nav { margin: 1.2rem 0; }
nav summary { font-weight: 600; padding: .35rem 0; }
nav ol { columns: 17rem; column-gap: 2rem; margin: .3rem 0; padding-left: 1.6rem; }
nav li { break-inside: avoid; padding: .1rem 0; }
aside {
  border: 1px solid var(--line); border-left: .35rem solid var(--care); background: var(--care-band);
  padding: .35rem 1rem .5rem; margin: 1.2rem 0; max-width: 48rem;
}
aside h3 { margin: .5rem 0; color: var(--care); }
.wide { overflow-x: auto; margin: 1.1rem 0; max-width: 100%; }
.wide:focus-visible, summary:focus-visible, a:focus-visible { outline: 2px solid var(--link); outline-offset: 2px; }
table { border-collapse: collapse; font-size: .9rem; line-height: 1.4; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: 600; padding: 0 0 .45rem; position: sticky; left: 0; }
th, td { text-align: left; vertical-align: top; padding: .32rem .8rem .32rem 0; border-bottom: 1px solid var(--line); }
th:last-child, td:last-child { padding-right: .25rem; }
thead th { vertical-align: bottom; border-bottom: 1.5px solid var(--ink); font-weight: 600; }
tbody th { font-weight: 400; min-width: 7rem; position: sticky; left: 0; background: var(--paper); }
tbody th.number { min-width: 0; }
.number { text-align: right; white-space: nowrap; }
.number + .text, .number + .long { padding-left: .5rem; }
thead .number { white-space: normal; min-width: 3.6rem; }
td.long { min-width: 11rem; }
td.text { min-width: 3rem; }
.unit { color: var(--soft); font-weight: 400; white-space: nowrap; }
details { margin: .4rem 0; border-top: 1px solid var(--line); }
details > summary { cursor: pointer; padding: .5rem 0; }
details > summary > h3, details > summary > h4 { display: inline; margin: 0; }
figure { margin: 1.8rem 0 2.4rem; }
figure .drawing { background: #fff; border: 1px solid var(--line); overflow-x: auto; }
figure svg { display: block; width: 100%; min-width: calc(.85 * var(--wide, 40rem)); height: auto; }
figcaption { color: var(--soft); font-size: .92rem; margin-top: .5rem; max-width: 46rem; }
figcaption b { color: var(--ink); }
.formula { overflow-x: auto; margin: .9rem 0 .1rem; padding: .1rem 0; }
.formula math { font-size: 1.02rem; }
math[display="block"] { width: max-content; margin: 0; }
.said { color: var(--soft); font-size: .88rem; margin: .1rem 0 .9rem; }
footer { margin-top: 3rem; border-top: 1px solid var(--line); color: var(--soft); font-size: .85rem; }
@media (max-width: 30rem) {
  .page { padding: .6rem .9rem 3rem; }
  h1 { font-size: 1.4rem; } h2 { font-size: 1.2rem; margin-top: 2.4rem; }
  table { font-size: .85rem; }
  tbody th { min-width: 5rem; max-width: 8.5rem; }
  td.long { min-width: 9.5rem; }
}
@media print {
  :root {
    color-scheme: light;
    --paper: #fff; --ink: #000; --soft: #333; --line: #999; --band: #fff;
    --link: #000; --good: #000; --bad: #000; --care: #000; --care-band: #fff;
  }
  @page { margin: 15mm 14mm 16mm; }
  body { background: #fff; color: #000; font-size: 9.5pt; line-height: 1.4; }
  .page { max-width: none; padding: 0; }
  nav { display: none; }
  a { text-decoration: none; }
  h1 { font-size: 17pt; } h2 { font-size: 13pt; margin-top: 0; } h3 { font-size: 10.5pt; }
  .lead { font-size: 11pt; }
  section.new-page { break-before: page; }
  h1, h2, h3, h4, summary, caption { break-after: avoid; }
  p, li { orphans: 3; widows: 3; }
  tr, figure, .formula, aside li { break-inside: avoid; }
  .formula { break-after: avoid; }
  thead { display: table-header-group; }
  .wide, .formula, figure .drawing { overflow: visible; }
  table { font-size: 7.6pt; }
  th, td { padding: 1.6pt 5pt 1.6pt 0; min-width: 0 !important; }
  caption, tbody th { position: static; }
  figure { margin: 0 0 8mm; }
  figure .drawing { border: none; }
  figure svg { min-width: 0; max-height: 225mm; }
  .formula math { font-size: 8.6pt; }
  .said, .note, figcaption { font-size: 8.4pt; }
  details > summary { list-style: none; }
  details > summary::-webkit-details-marker { display: none; }
  details:not([open])::details-content { content-visibility: visible; }
}
"""
