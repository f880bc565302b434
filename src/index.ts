export { VERSION } from './cli/version.js';
