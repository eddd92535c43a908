import type { OpenedEvent } from '../journal/record.ts';
import type { JobEvent } from '../procedure/events.ts';
import { typedLabelInWords } from '../trade/part-label.ts';
import { digitsOf } from './figures.ts';

/** One event in a few words, for the line of the last input and for the record as a story. */
export function eventInWords(event: JobEvent | OpenedEvent): string {
  switch (event.type) {
    case 'job.opened':
      return 'job opened';
    case 'advance':
      return 'went on';
    case 'callOff':
      return `called off ${event.item}${event.toolId ? ` ${event.toolId}` : ''}${event.label === undefined ? '' : `: ${typedLabelInWords(event.label)}`}`;
    case 'scan':
      return `part scanned: ${typedLabelInWords(event.label)}`;
    case 'choose':
      return `chose ${event.value === true ? 'yes' : event.value === false ? 'no' : event.value}`;
    case 'reading':
      return `reading ${digitsOf(event.value, event.unit)} ${event.unit}${event.toolId ? ` with ${event.toolId}` : ''}`;
    case 'lookUp':
      return `from the service manual: ${digitsOf(event.value, event.unit)} ${event.unit}`;
    case 'accept':
      return 'result accepted';
    case 'cannot':
      return 'went on without a result';
    case 'confirm':
      return event.evidence.kind === 'press'
        ? `pedal held ${(event.evidence.heldMs / 1000).toFixed(1)} s`
        : `said “${event.evidence.phrase}”`;
    case 'witness':
      return 'witness confirmed';
    case 'fail':
      return 'not right: sent to be put right';
    case 'open':
      return 'went back';
    case 'pause':
      return 'paused';
    case 'resume':
      return 'resumed';
    case 'note':
      return `note: ${event.says}`;
    case 'signOn':
      return event.how === 'pin' ? 'signed on by PIN' : `signed on by ${event.how}`;
    case 'handOver':
      return `work handed over to ${event.to}`;
    case 'trouble':
      return `trouble: ${event.says}`;
    case 'attach':
      return event.kind === 'photo' ? 'photo added' : 'voice note added';
    case 'decide':
      return `decided ${event.decision}: ${event.says}`;
    case 'stop':
      return `stopped: ${event.says}`;
  }
}
