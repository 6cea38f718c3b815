import { wording } from '../diagnostic.ts';

export const internalWords = wording<{ rule: string; problem: string }>({
  rule: 'internal',
  severity: 'error',
  why: 'A check that breaks down must not pass for one that found nothing.',
  message: ({ rule, problem }) => `pomary failed in its own check ${rule}: ${problem}`,
  advice: () =>
    'this is a fault of pomary and not of your files: please report it with this line and the version of pomary',
});
