import { wording } from '../diagnostic.ts';

export const photoOutsideWords = wording<{ photo: string }>({
  rule: 'photo-outside',
  severity: 'warning',
  why: 'A ledger is copied, shared and published as one folder. A picture that lies elsewhere is not in it, and a path that leads out of it may show what was never meant to be shown.',
  message: ({ photo }) => `the photo ${photo} does not lie inside the ledger`,
  advice: () =>
    'copy the picture into the folder of the ledger and write the path from there, as in photos/t1.jpg',
});

export const photoMissingWords = wording<{ photo: string }>({
  rule: 'photo-missing',
  severity: 'warning',
  why: 'A picture that is not where the entry says cannot be shown with it.',
  message: ({ photo }) => `there is no picture ${photo} in the ledger`,
  advice: () =>
    'put the picture there, or write its path as it is: from the folder of the ledger, with /, small and capital letters as in its name',
});
