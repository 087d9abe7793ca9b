export * from '../shop/opening-hours.js';
