/** The page's own style sheet: light and dark, screen and paper. */
export const HTML_STYLE = `:root {
  color-scheme: light dark;
  --paper: #fdfcf9;
  --ink: #23271f;
  --soft: #4d5347;
  --line: #c9cbbf;
  --faint: #f3f2ea;
  --caution: #7a4100;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #191c17;
    --ink: #e8e9e1;
    --soft: #b0b5a6;
    --line: #454a3f;
    --faint: #22261f;
    --caution: #f0b56a;
  }
}
body {
  margin: 0;
  background: var(--paper);
  color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif;
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
  position: absolute;
  width: 1px;
  height: 1px;
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
.notes {
  max-width: 46rem;
  padding-left: 1.2rem;
  color: var(--soft);
}
.notes li {
  margin: 0.3rem 0;
}
.caution {
  color: var(--caution);
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
  li {
    break-inside: avoid;
  }
}
`;
