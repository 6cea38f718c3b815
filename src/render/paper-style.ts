/** The style of sheets to fill in: paper first, and the same on a screen. */
export function paperStyle(laid: 'portrait' | 'landscape'): string {
  return `@page {
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
}
body {
  margin: 0 auto;
  background: #fff;
  color: #000;
  font: 9.5pt/1.3 system-ui, sans-serif;
}
h1 {
  margin: 0 0 2mm;
  font-size: 14pt;
}
p {
  margin: 0;
}
.who {
  margin-bottom: 3mm;
}
.blank {
  display: inline-block;
  width: 60mm;
  border-bottom: 1px solid #000;
}
td .blank,
.girth .blank {
  width: 16mm;
}
.told {
  display: flex;
  gap: 8mm;
  margin-bottom: 3mm;
}
.told ul {
  flex: 1;
  margin: 0;
  padding: 2mm 2mm 2mm 6mm;
  border: 1px solid #000;
}
.told .cautions {
  flex: 1.4;
  border-width: 2.5px;
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
  border-collapse: collapse;
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
  text-align: left;
  vertical-align: top;
  overflow-wrap: anywhere;
  font-weight: normal;
}
thead th {
  overflow-wrap: normal;
  font-weight: bold;
  font-size: 8pt;
}
thead .site {
  font-size: 12pt;
}
tbody tr:first-child > * {
  border-top-width: 2.5px;
}
tbody td {
  height: 15mm;
}
th p,
td p {
  font-size: 8pt;
}
b {
  font-size: 11pt;
}
col.tree {
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
.girth {
  margin-top: 2mm;
}
.wait {
  border: 2.5px solid #000;
  font-size: 12pt;
  font-weight: bold;
}
h2 {
  margin: 0 0 3mm;
  font-size: 12pt;
}
h3 {
  margin: 4mm 0 1mm;
  font-size: 10pt;
}
.lines,
.notes {
  margin: 2mm 0;
  padding-left: 5mm;
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
.order .blank {
  width: 18mm;
  height: 9mm;
}
h2,
h3 {
  break-after: avoid;
}
pre {
  break-inside: avoid;
  padding: 2mm;
  border: 1px solid #000;
  font-size: 8pt;
  white-space: pre-wrap;
}
`;
