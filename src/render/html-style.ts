import type { Ground } from './figure-style.ts';

const LIGHT = `  --paper: #fdfcf9;
  --ink: #23271f;
  --soft: #4d5347;
  --line: #c9cbbf;
  --faint: #f2f1ee;
  --stripe: #23271f0d;
  --caution: #7a4100;
  --link: #6d3a63;
`;
const DARK = `    --paper: #191c17;
    --ink: #e8e9e1;
    --soft: #b0b5a6;
    --line: #454a3f;
    --faint: #232621;
    --stripe: #e8e9e10d;
    --caution: #f0b56a;
    --link: #d3a3c8;
`;

/**
 * The style of pages to be read: light and dark, screen and paper. What only a post has stands last.
 * A page has a ground in any case: without one of its own it is light.
 */
export function htmlStyle(ground: Ground): string {
  const isDark = ground === 'dark';
  const scheme = ground === 'auto' ? 'light dark' : isDark ? 'dark' : 'light';
  const where = isDark ? 'screen' : '(prefers-color-scheme: dark)';
  const dark = ground === 'auto' || isDark ? `@media ${where} {\n  :root {\n${DARK}  }\n}\n` : '';
  return `:root {\n  color-scheme: ${scheme};\n${LIGHT}}\n${dark}${STYLE}`;
}

const STYLE = `body {
  margin: 0;
  background: var(--paper);
  color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif;
}
a {
  color: var(--link);
  text-underline-offset: 0.15em;
}
main {
  max-width: 80rem;
  margin: 0 auto;
  padding: 1.5rem 1rem 3rem;
}
h1 {
  margin: 0 0 1rem;
  font-size: 1.4rem;
  line-height: 1.25;
}
.ledger {
  margin: 0;
  color: var(--soft);
}
.wide {
  position: relative;
  overflow-x: auto;
  /* A shade at each edge behind which there is more of the table; what scrolls along covers it. */
  background:
    linear-gradient(to right, var(--paper) 40%, transparent) left / 2.5rem 100% local,
    linear-gradient(to left, var(--paper) 40%, transparent) right / 2.5rem 100% local,
    linear-gradient(to right, var(--line), transparent) left / 1rem 100% scroll,
    linear-gradient(to left, var(--line), transparent) right / 1rem 100% scroll;
  background-repeat: no-repeat;
}
.wide:focus-visible {
  outline: 2px solid var(--soft);
  outline-offset: 2px;
}
table {
  border-collapse: collapse;
  font-variant-numeric: tabular-nums lining-nums;
}
caption {
  max-width: min(46rem, calc(100vw - 2rem));
  padding: 0 0 0.4rem;
  text-align: left;
  font-weight: 600;
}
.unseen {
  position: absolute;
  width: 1px;
  height: 1px;
  padding: 0;
  overflow: hidden;
  clip-path: inset(50%);
}
th,
td {
  padding: 0.35rem 0.6rem;
  border-bottom: 1px solid var(--line);
  text-align: left;
  vertical-align: top;
}
thead th {
  border-bottom: 2px solid var(--soft);
  vertical-align: bottom;
}
tbody tr:nth-child(even) td {
  background: var(--stripe);
}
tbody th {
  position: sticky;
  left: 0;
  background: var(--paper);
  font-weight: 600;
}
tbody tr:nth-child(even) th {
  background: var(--faint);
}
.long {
  min-width: 7.5em;
}
main td:not([class]) {
  min-width: 14rem;
}
.figure {
  text-align: right;
}
td.figure,
.word,
.short {
  white-space: nowrap;
}
main p,
.lines,
.notes {
  max-width: 46rem;
}
.lines,
.notes {
  padding-left: 1.2rem;
}
.lines li,
.notes li {
  margin: 0.3rem 0;
}
.notes {
  color: var(--soft);
}
.caution {
  color: var(--caution);
}
h2 {
  margin: 1.6rem 0 0.5rem;
  font-size: 1.1rem;
}
.aside {
  margin: -0.4rem 0 0.3rem;
  color: var(--soft);
}
h3 {
  margin: 1.4rem 0 0.4rem;
  font-size: 1rem;
}
dl {
  display: grid;
  grid-template-columns: max-content 1fr;
  gap: 0.25rem 1rem;
  max-width: 60rem;
  margin: 0;
}
dt {
  color: var(--soft);
}
dd {
  margin: 0;
}
@media (max-width: 32rem) {
  dl {
    grid-template-columns: 1fr;
    gap: 0;
  }
  dd {
    margin-bottom: 0.6rem;
  }
  table {
    font-size: 0.875rem;
  }
  th,
  td {
    padding: 0.3rem 0.25rem;
  }
  thead th {
    font-size: 0.75rem;
  }
  .short {
    min-width: 5.2em;
    white-space: normal;
  }
}
@media print {
  :root {
    color-scheme: light;
    --paper: #fff;
    --ink: #000;
    --soft: #333;
    --line: #999;
    --faint: #fff;
    --stripe: #fff;
    --caution: #000;
    --link: #000;
  }
  main {
    max-width: none;
    padding: 0;
  }
  .wide {
    overflow: visible;
    background: none;
  }
  .short {
    min-width: 0;
    white-space: normal;
  }
  .long,
  main td:not([class]) {
    min-width: 0;
  }
  tbody th {
    position: static;
  }
  table {
    font-size: 9pt;
  }
  th,
  td {
    padding: 0.15rem 0.4rem;
  }
  tr,
  li,
  dd,
  figure {
    break-inside: avoid;
  }
  /* No row of a table alone on a page. */
  main tbody tr:first-child {
    break-after: avoid;
  }
  main tbody tr:last-child {
    break-before: avoid;
  }
  h2,
  h3,
  dt,
  caption,
  .aside,
  li:first-child {
    break-after: avoid;
  }
  li:last-child {
    break-before: avoid;
  }
  a {
    text-decoration: none;
  }
  .photo img {
    max-width: 7.5cm;
    max-height: 7.5cm;
  }
}
.told {
  max-width: 48rem;
}
.post h1 {
  font-size: 1.6rem;
}
.post h2 {
  margin: 2.2rem 0 0.6rem;
  font-size: 1.2rem;
  line-height: 1.3;
}
.told li,
.told p,
.told td,
.told th,
.told figcaption {
  overflow-wrap: break-word;
}
.told .wide {
  margin: 1rem 0;
}
@media screen and (min-width: 50rem) {
  /* A table that is wider than the text goes on to the edge of the window. */
  .told .wide {
    width: max-content;
    min-width: 48rem;
    max-width: calc(50vw + 23rem);
  }
  .told td:not([class]) {
    max-width: 30rem;
  }
}
figure {
  max-width: 27rem;
  margin: 1.2rem 0;
}
figure svg {
  display: block;
  width: 100%;
  height: auto;
}
.photo {
  max-width: 30rem;
}
.photo img {
  display: block;
  max-width: 100%;
  height: auto;
}
figcaption {
  color: var(--soft);
  font-size: 0.9rem;
}
@media print {
  .told table {
    font-size: 8pt;
  }
  .told th,
  .told td {
    padding: 0.1rem 0.25rem;
  }
  .told .broad table {
    font-size: 6pt;
  }
  .told .broad th,
  .told .broad td {
    padding: 0.1rem 0.12rem;
  }
  caption {
    max-width: none;
  }
  figure {
    max-width: 10cm;
  }
}
`;

/** The same of sheets to print and fill in: black on white, on a screen as well. */
export function paperStyle(laid: 'portrait' | 'landscape'): string {
  return `${htmlStyle('light')}@page {
  size: A4 ${laid};
  margin: 9mm;
}
body {
  max-width: ${laid === 'portrait' ? 192 : 279}mm;
}
${PAPER}`;
}

const PAPER = `:root {
  color-scheme: light;
  --paper: #fff;
  --ink: #000;
  --soft: #000;
  --line: #000;
  --faint: #fff;
  --stripe: #fff;
  --caution: #000;
  --link: #000;
}
body {
  margin: 0 auto;
  font: 9.5pt/1.3 system-ui, sans-serif;
}
h1 {
  margin: 0 0 2mm;
  font-size: 14pt;
}
h2 {
  margin: 0 0 3mm;
  font-size: 12pt;
}
h3 {
  margin: 4mm 0 1mm;
  font-size: 10pt;
}
h2,
h3 {
  break-after: avoid;
}
p {
  margin: 0;
}
.lines,
.notes {
  max-width: none;
  margin: 2mm 0;
  padding-left: 5mm;
}
.blank {
  display: inline-block;
  width: 16mm;
  border-bottom: 1px solid #000;
}
.order .blank {
  width: 18mm;
  height: 9mm;
}
section + section {
  break-before: page;
}
@media screen {
  body {
    padding: 8mm;
  }
  .scores {
    min-width: 170mm;
  }
  section + section {
    margin-top: 10mm;
  }
}
table {
  width: 100%;
  font-size: 9.5pt;
  table-layout: fixed;
}
thead {
  display: table-header-group;
}
tbody,
tr {
  break-inside: avoid;
}
th,
td {
  border: 1px solid #000;
  padding: 1mm 1.5mm;
  overflow-wrap: break-word;
}
thead th {
  border-bottom-width: 1px;
  overflow-wrap: normal;
  vertical-align: top;
  font-size: 8pt;
}
tbody th {
  position: static;
  font-weight: normal;
}
tbody tr:first-child > * {
  border-top-width: 2.5px;
}
tbody td {
  height: 15mm;
}
.known {
  table-layout: auto;
}
.known th {
  white-space: nowrap;
}
.known tbody > tr > * {
  height: auto;
  border-top-width: 1px;
}
.scores {
  margin: 3mm 0;
}
.scores tbody th,
.known tbody th {
  font-size: 12pt;
  font-weight: bold;
}
.number {
  text-align: right;
}
col.code {
  width: 18mm;
}
col.remarks {
  width: 62mm;
}
.form {
  margin: 3mm 0;
}
.form p {
  font-size: 8pt;
}
.form .own {
  margin-top: 2mm;
}
.form b {
  font-size: 11pt;
}
.form .caption {
  font-size: 12pt;
}
.form .wait {
  border: 2.5px solid #000;
  font-size: 12pt;
  font-weight: bold;
}
/* On a telephone nobody writes into boxes: what is known and due stands tree by tree. */
@media screen and (max-width: 40rem) {
  body {
    padding: 4mm;
  }
  .scores {
    min-width: 0;
  }
  .scores :is(col.remarks, thead th:last-child, td:last-child) {
    display: none;
  }
  .scores :is(th, td) {
    padding: 1mm 0.5mm;
    overflow-wrap: break-word;
    hyphens: auto;
  }
  .scores tbody td {
    height: 10mm;
  }
  .scores col.code {
    width: 13mm;
  }
  .known,
  .known :is(tbody, tr) {
    display: block;
  }
  .known thead {
    display: none;
  }
  .known :is(th, td) {
    display: inline-block;
    border: 0;
    padding: 0.5mm 3mm 0.5mm 0;
  }
  .known tr {
    border-top: 1px solid #000;
    padding: 1mm 0;
  }
  .known td:empty {
    display: none;
  }
  .known td::before {
    content: attr(data-head) " ";
    font-size: 8pt;
  }
  .form,
  .form :is(thead, tbody, tr, th, .due, .wait) {
    display: block;
    font-size: 1rem;
  }
  .form :is(p, b) {
    font-size: inherit;
  }
  .form :is(colgroup, thead tr + tr, thead :not(.caption, tr), td:not(.due, .wait)) {
    display: none;
  }
  .form :is(thead, tbody) tr > :not(.wait) {
    border-width: 0;
    padding: 0.5mm 0;
  }
  .form tbody {
    border-top: 1px solid #000;
    padding: 1.5mm 0;
  }
  .form tbody td {
    height: auto;
  }
  .form .wait {
    border-width: 2.5px;
    padding: 1mm 1.5mm;
  }
  .form .due {
    padding-left: 5mm;
  }
  .form thead::after {
    content: "The boxes to fill in are on the printed sheet.";
  }
}
col.record {
  width: 59mm;
}
col.due {
  width: 46mm;
}
col.some {
  width: 17.5mm;
}
col.few {
  width: 13mm;
}
pre {
  break-inside: avoid;
  padding: 2mm;
  border: 1px solid #000;
  font-size: 8pt;
  white-space: pre-wrap;
}
`;
