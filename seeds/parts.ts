import type { WorkshopPart } from '../src/job/workshop.ts';

/**
 * Labels of the parts on the shelf. The long numbers begin with 20, which a shop may use inside its own walls and which
 * names no maker (GS1 prefixes, from memory); the short ones are the workshop's own.
 */
export const parts: readonly WorkshopPart[] = [
  {
    code: '2041730000104',
    says: 'Roller chain, 12.7 mm, open',
    fits: [{ procedure: 'final-drive', item: 'chain' }],
    machines: ['LF-01'],
  },
  {
    code: '2041730000203',
    says: 'Sealed chain, 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'chain' }],
    machines: ['LF-04', 'LF-07', 'LF-09'],
  },
  {
    code: '2041730000302',
    says: 'Front sprocket, 14 teeth, for 12.7 mm',
    fits: [{ procedure: 'final-drive', item: 'front' }],
    machines: ['LF-01'],
    figures: { newFront: 14 },
  },
  {
    code: '2041730000401',
    says: 'Rear sprocket, 46 teeth, for 12.7 mm',
    fits: [{ procedure: 'final-drive', item: 'rear' }],
    machines: ['LF-01'],
    figures: { newRear: 46 },
  },
  {
    code: '2041730000500',
    says: 'Front sprocket, 13 teeth, for 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'front' }],
    machines: ['LF-04', 'LF-07', 'LF-09'],
    figures: { newFront: 13 },
  },
  {
    code: '2041730000609',
    says: 'Front sprocket, 15 teeth, for 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'front' }],
    machines: ['LF-04', 'LF-07', 'LF-09'],
    figures: { newFront: 15 },
  },
  {
    code: '2041730000708',
    says: 'Rear sprocket, 45 teeth, for 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'rear' }],
    machines: ['LF-04', 'LF-07', 'LF-09'],
    figures: { newRear: 45 },
  },
  {
    code: '2041730000807',
    says: 'Rear sprocket, 48 teeth, for 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'rear' }],
    machines: ['LF-04', 'LF-07', 'LF-09'],
    figures: { newRear: 48 },
  },
  {
    code: 'LF-P009',
    says: 'Clip link, 12.7 mm',
    fits: [{ procedure: 'final-drive', item: 'clipLink' }],
    machines: ['LF-01'],
  },
  {
    code: 'LF-P010',
    says: 'Clip link, 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'clipLink' }],
    machines: ['LF-07', 'LF-09'],
  },
  {
    code: 'LF-P011',
    says: 'Riveted link, 15.875 mm',
    fits: [{ procedure: 'final-drive', item: 'rivetLink' }],
    machines: ['LF-04'],
  },
  {
    code: '2041730001200',
    says: 'Brake pads, pair, Stride',
    fits: [{ procedure: 'brake', item: 'pads' }],
    machines: ['LF-01'],
  },
  {
    code: '2041730001309',
    says: 'Brake pads, pair, Fell and Mile',
    fits: [{ procedure: 'brake', item: 'pads' }],
    machines: ['LF-04', 'LF-07'],
  },
  {
    code: '2041730001408',
    says: 'Tyre, school pattern, 19 inch',
    fits: [{ procedure: 'wheel-tyre', item: 'tyre' }],
    machines: ['LF-01'],
  },
  {
    code: '2041730001507',
    says: 'Inner tube, 19 inch',
    fits: [{ procedure: 'wheel-tyre', item: 'tube' }],
    machines: ['LF-01'],
  },
];
