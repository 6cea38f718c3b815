import fc from 'fast-check';
import { inFile, share } from './changes.ts';
import { odd } from './odd-pieces.ts';

/** Cuts some characters out at a place and puts others in. */
export const characters = fc
  .tuple(share, share, fc.integer({ min: 0, max: 4 }), odd)
  .map(([file, at, cut, put]) =>
    inFile(file, (text) => {
      const place = Math.floor(at * text.length);
      return text.slice(0, place) + put + text.slice(place + cut);
    }),
  );

/** Words, numbers, signs and blanks: one is left out, doubled, swapped with the next or replaced. */
export const tokens = fc
  .tuple(share, share, fc.constantFrom('drop', 'double', 'swap', 'replace'), odd)
  .map(([file, at, how, put]) =>
    inFile(file, (text) => {
      const parts = text.match(/[\p{L}\p{N}_.-]+|\s+|[^\p{L}\p{N}\s]/gu) ?? [];
      const place = Math.floor(at * parts.length);
      const [here = '', next = ''] = parts.slice(place, place + 2);
      const instead = {
        drop: [next],
        double: [here, here, next],
        swap: [next, here],
        replace: [put, next],
      };
      parts.splice(place, 2, ...instead[how]);
      return parts.join('');
    }),
  );

/** Lines: one is left out, doubled, moved, set in or out, or joined to the next. */
export const lines = fc
  .tuple(share, share, share, fc.constantFrom('drop', 'double', 'move', 'in', 'out', 'join', 'cut'))
  .map(([file, at, to, how]) =>
    inFile(file, (text) => {
      const all = text.split('\n');
      const place = Math.floor(at * all.length);
      const here = all[place] ?? '';
      if (how === 'cut') return all.slice(0, place).join('\n');
      if (how === 'move') {
        all.splice(place, 1);
        all.splice(Math.floor(to * all.length), 0, here);
        return all.join('\n');
      }
      const next = all[place + 1] ?? '';
      const instead = {
        drop: [next],
        double: [here, here, next],
        in: [`  ${here}`, next],
        out: [here.replace(/^ {1,2}/, ''), next],
        join: [here + next],
      };
      all.splice(place, 2, ...instead[how]);
      return all.join('\n');
    }),
  );
