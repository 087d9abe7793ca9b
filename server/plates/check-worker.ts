import workerpool from 'workerpool';
import {
  bolsterDrawing,
  checkDrawing,
  compareDrawings,
  measureDrawing,
  reportDrawing,
} from './check-drawing.js';
import { sketchDrawing } from './library/sketch-drawing.js';

/** What a worker process does when it is asked, by name. */
const TASKS = {
  measure: measureDrawing,
  bolster: bolsterDrawing,
  check: checkDrawing,
  report: reportDrawing,
  difference: compareDrawings,
  sketch: sketchDrawing,
};

export type TaskName = keyof typeof TASKS;

workerpool.worker(TASKS);
