export * from '../shop/day-in.js';
