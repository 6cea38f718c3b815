/** What a post adds to the style sheet of a report. */
export const POST_STYLE = `h2 {
  margin: 2.2rem 0 0.6rem;
  font-size: 1.2rem;
  line-height: 1.3;
}
h3 {
  margin: 1.4rem 0 0.4rem;
  font-size: 1rem;
}
p,
.lines {
  max-width: 46rem;
}
.lines {
  padding-left: 1.2rem;
}
.lines li {
  margin: 0.3rem 0;
}
li,
p,
td,
th,
figcaption {
  overflow-wrap: break-word;
}
.wide {
  margin: 1rem 0;
}
caption {
  position: static;
  width: auto;
  max-width: min(46rem, calc(100vw - 2rem));
  height: auto;
  clip-path: none;
  overflow: visible;
  padding: 0 0 0.4rem;
  text-align: left;
  font-weight: 600;
}
td:not([class]) {
  min-width: 14rem;
}
figure {
  max-width: 34rem;
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
  table {
    font-size: 8pt;
  }
  th,
  td {
    padding: 0.1rem 0.25rem;
  }
  td:not([class]) {
    min-width: 0;
  }
  caption {
    max-width: none;
  }
  figure {
    max-width: 12cm;
    break-inside: avoid;
  }
  h2,
  h3,
  caption {
    break-after: avoid;
  }
}
`;
