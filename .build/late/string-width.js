export { default } from 'string-width';
