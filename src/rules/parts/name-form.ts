import { type Diagnostic, diagnose, type Wording } from '../../diagnostics/diagnostic.ts';
import type { Ledger } from '../../model/ledger.ts';
import { spotIn } from '../../source/source-file.ts';
import type { Rule } from '../rule.ts';

const QUOTED = /^(?:'(.+)'|"(.+)"|`(.+)`|‘(.+)’|“(.+)”|„(.+)[“”]|«(.+)»|‹(.+)›)$/su;

/** What stands between quotation marks typed around a name, or undefined where there are none. */
export function insideQuotes(name: string): string | undefined {
  const found = QUOTED.exec(name.trim());
  return found?.slice(1).find((part) => part !== undefined);
}

/** The name without spaces and quotation marks around it. */
export function bareName(name: string): string {
  return (insideQuotes(name) ?? name).trim().normalize('NFC');
}

/** What two spellings of one name have in common: neither case, spacing nor quotation marks. */
export function nameKey(name: string): string {
  return bareName(name).replace(/\s+/gu, ' ').replace(/[‘’]/gu, "'").toLowerCase();
}

/** The words of a name as they stand. */
export function nameWords(name: string): readonly string[] {
  return bareName(name).match(/[\p{L}\p{M}\p{N}'’]+/gu) ?? [];
}

/** A rule on the form of each cultivar's name: the facts where it is broken, else undefined. */
export function nameRule<Facts>(
  words: Wording<Facts>,
  broken: (name: string, ledger: Ledger) => Facts | undefined,
): Rule {
  return {
    words: [words],
    *check(ledger): Generator<Diagnostic> {
      for (const { name, at } of ledger.cultivars.values()) {
        const facts = broken(name, ledger);
        if (facts !== undefined) yield diagnose(words, spotIn(at, 'name'), facts);
      }
    },
  };
}
