import type { Ground } from './figure-style.ts';

const LIGHT = `  --paper: #fdfcf9;
  --ink: #23271f;
  --soft: #4d5347;
  --line: #c9cbbf;
  --faint: #f3f2ea;
  --caution: #7a4100;
  --link: #6d3a63;
`;
const DARK = `    --paper: #191c17;
    --ink: #e8e9e1;
    --soft: #b0b5a6;
    --line: #454a3f;
    --faint: #22261f;
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
tbody tr {
  background: var(--paper);
}
tbody tr:nth-child(even) {
  background: var(--faint);
}
tbody th {
  position: sticky;
  left: 0;
  background: inherit;
  font-weight: 600;
}
.figure {
  text-align: right;
}
td.figure,
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
.photo img {
  display: block;
  max-width: min(100%, 30rem);
  height: auto;
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
    padding: 0.3rem 0.35rem;
  }
  .short {
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
    --caution: #000;
    --link: #000;
  }
  main {
    max-width: none;
    padding: 0;
  }
  .wide {
    overflow: visible;
  }
  .short {
    white-space: normal;
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
  .photo {
    break-inside: avoid;
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
.post {
  max-width: 50rem;
}
.post h1 {
  font-size: 1.6rem;
}
.post h2 {
  margin: 2.2rem 0 0.6rem;
  font-size: 1.2rem;
  line-height: 1.3;
}
.post li,
.post p,
.post td,
.post th,
.post figcaption {
  overflow-wrap: break-word;
}
.post .wide {
  margin: 1rem 0;
}
.post td:not([class]) {
  min-width: 14rem;
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
figcaption {
  color: var(--soft);
  font-size: 0.9rem;
}
@media print {
  .post table {
    font-size: 8pt;
  }
  .post th,
  .post td {
    padding: 0.1rem 0.25rem;
  }
  .post td:not([class]) {
    min-width: 0;
  }
  caption {
    max-width: none;
  }
  figure {
    max-width: 10cm;
    break-inside: avoid;
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
  overflow-wrap: anywhere;
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
