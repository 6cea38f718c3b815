/** How git is told, once on a computer, who joins the files that .gitattributes marks. */
export const DRIVER_COMMAND = 'git config --global merge.pomary.driver "pomary merge %O %A %B %P"';
