import workerpool from 'workerpool';
import { checkDrawing, measureDrawing, reportDrawing } from './check-drawing.js';

/** What a worker process does when it is asked, by name. */
const TASKS = { measure: measureDrawing, check: checkDrawing, report: reportDrawing };

export type TaskName = keyof typeof TASKS;

workerpool.worker(TASKS);
