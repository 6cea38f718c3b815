/** So many ranks count as the top, where nobody asks for another number. */
export const TOP = 3;
