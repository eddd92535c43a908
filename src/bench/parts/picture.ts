import { nothing, type TemplateResult } from 'lit';
import type { StationView } from '../../job/view.ts';
import { adjusterDrawing, adjusterInWords } from './adjuster.ts';
import { drawing, drawingInWords } from './drawing.ts';
import { ringDrawing, ringInWords } from './ring.ts';

/** The one picture of a station that "show the drawing" enlarges: its ring, its drawing, or the adjuster. */
export function pictureOf(view: StationView): TemplateResult | null {
  if (view.round) return ringDrawing(view.round);
  const drawn = drawing(view.drawing);
  if (drawn !== nothing) return drawn as TemplateResult;
  return view.adjuster ? adjusterDrawing(view.adjuster) : null;
}

/** The same in words, to be read aloud with it. */
export function pictureInWords(view: StationView): string | null {
  if (view.round) return ringInWords(view.round);
  return drawingInWords(view.drawing) ?? (view.adjuster ? adjusterInWords(view.adjuster) : null);
}
