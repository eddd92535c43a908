import type { Page } from 'playwright-core';
import { type JobSight, look, type Sight, until } from './screen.ts';

/** Longer than a hold point asks for, shorter than a pedal with a tool box on it, ms. */
const LONG_PRESS_MS = 1300;
const TAP_MS = 40;
/** Pause of a hand between two keys, ms. */
const PAUSE_MS = 60;

const DIGITS_KEY: Readonly<Record<string, string>> = { '.': 'Period' };

/** What a person knows who stands at the machine: figures that are on no card, ways that are on no card. */
export interface Knowledge {
  /** Figures of the service manual, by the beginning of the label that asks for them. */
  readonly manual?: Readonly<Record<string, number>>;
  /** Which way to take at a fork that no card decides: text of the choice. */
  readonly ways?: readonly string[];
}

/** A person at the keyboard: presses keys, looks at the screen, knows nothing of what is behind it. */
export class Hands {
  readonly page: Page;
  readonly #knows: Knowledge;
  /** Called just before a key is let go. */
  onRelease: () => void = () => undefined;

  constructor(page: Page, knows: Knowledge = {}) {
    this.page = page;
    this.#knows = knows;
  }

  look(): Promise<Sight> {
    return look(this.page);
  }

  async tap(key = 'PageDown'): Promise<void> {
    return this.hold(key, TAP_MS);
  }

  async hold(key = 'PageDown', ms = LONG_PRESS_MS): Promise<void> {
    await this.page.keyboard.down(key);
    await this.page.waitForTimeout(ms);
    this.onRelease();
    await this.page.keyboard.up(key);
    await this.page.waitForTimeout(PAUSE_MS);
  }

  async type(figure: string): Promise<void> {
    for (const sign of figure) await this.tap(DIGITS_KEY[sign] ?? `Digit${sign}`);
  }

  /** Takes a line of the list that is shown: by its number, or past nine by going there. */
  async take(wanted: RegExp): Promise<void> {
    // A long list shows what lies around its lit line: the foot goes down the list until the line comes into sight.
    for (let n = 0; n < 60; n++) {
      const { options } = await until(this.page, `a list for ${wanted}`, (sight) => sight.options.length > 0);
      const line = options.find(({ text }) => wanted.test(text));
      if (line && line.number <= 9) return this.tap(`Digit${line.number}`);
      if (line?.lit) return this.tap('Enter');
      await this.tap();
    }
    throw new Error(`No line for ${wanted} in: ${(await this.look()).text}`);
  }

  /** From the first start to the shelf of the demo workshop. */
  async loadDemo(): Promise<void> {
    await this.take(/demo workshop/i);
    await until(this.page, 'the shelf', onShelf, 30_000);
  }

  /** From the shelf to the first station of a new job. */
  async startJob(job: RegExp, machine: RegExp, person: RegExp): Promise<JobSight> {
    await this.take(/^Start a job/);
    for (const answer of [job, machine, person]) await this.take(answer);
    const { screen, text } = await until(this.page, 'the next question', ({ screen }) => screen !== 'list');
    if (screen === 'pin') await this.givePin(text);
    return this.atStation();
  }

  async atStation(): Promise<JobSight> {
    const { job } = await until(this.page, 'a station', (sight) => sight.screen === 'job');
    if (!job) throw new Error('No station.');
    return job;
  }

  /** Reads a station to its end, page by page; what was seen on any page of it counts as seen. */
  async readAll(): Promise<JobSight> {
    let seen = await this.atStation();
    for (let pages = 0; seen.more && !seen.over && pages < 20; pages++) {
      const { text } = await this.look();
      await this.tap();
      const { job } = await until(this.page, 'the next page', (now) => now.job !== null && now.text !== text);
      if (job) seen = together(seen, job);
    }
    return seen;
  }

  /** Does at this station what a person does who does everything right, and waits until the screen shows it. */
  async doRight(): Promise<Sight> {
    const sight = await this.readAll();
    const before = await this.look();
    await this.#right(sight);
    return until(this.page, 'another screen', (now) => now.text !== before.text && settled(now));
  }

  async #right(sight: JobSight): Promise<void> {
    if (sight.over) return this.#overStation(sight.over);
    if (sight.asked) return this.giveFigure(this.figureFor(sight));
    if (sight.witnesses.length > 0) return this.#witness();
    if (sight.hold) return this.hold();
    if (sight.choices.length > 0) return this.#choose(sight);
    return this.tap();
  }

  /** The first who may comes, says who they are, looks, and keeps the pedal down. */
  async #witness(): Promise<void> {
    await this.tap('Digit1');
    const { job } = await this.look();
    if (job?.over?.title === 'Sign on') {
      await this.givePin(job.over.text);
      await until(this.page, 'the hold again', (sight) => sight.job?.over === null);
    }
    return this.hold();
  }

  /** Types the PIN of the person who is asked for it, as the demo workshop's hint on the screen has it. */
  async givePin(asked: string): Promise<void> {
    const name = /(\S+)( \S+)?, your PIN/.exec(asked)?.[1] ?? '';
    const pin = new RegExp(`${name} (\\d+)`).exec(asked)?.[1];
    if (pin === undefined) throw new Error(`No PIN is known: ${asked}`);
    await this.type(pin);
    await this.tap('Enter');
  }

  async #overStation(over: NonNullable<JobSight['over']>): Promise<void> {
    if (over.title === 'Paused')
      return /hold the pedal down to go on/.test(over.text) ? this.hold() : this.tap();
    if (over.title === 'Sign on') return this.givePin(over.text);
    const today = new Date().toISOString().slice(0, 10);
    const at = over.options.findIndex(({ text }) => {
      const day = /calibrated until (\S+)/.exec(text)?.[1];
      return day === undefined || day >= today;
    });
    if (at < 0) throw new Error(`Nothing to take: ${over.title}`);
    return this.tap(`Digit${at + 1}`);
  }

  #choose({ choices, station }: JobSight): Promise<void> {
    const known = choices.findIndex(({ text }) => text.includes('as the card has it'));
    const way = choices.findIndex(({ text }) => this.#knows.ways?.includes(text));
    const at = known >= 0 ? known : way;
    if (at < 0) throw new Error(`Which way at ${station}?`);
    return this.tap(`Digit${at + 1}`);
  }

  /** Types a figure, has it read back, and says that it is right. */
  async giveFigure(figure: string): Promise<void> {
    await this.type(figure);
    await this.tap('Enter');
    await until(this.page, 'the figure read back', ({ job }) => job?.asked?.readBack === true);
    await this.tap('Enter');
  }

  /** The figure that lies right: the one to hit, the middle between its limits, or what the manual says. */
  figureFor({ asked, figures }: JobSight): string {
    const label = asked?.label ?? '';
    const known = Object.entries(this.#knows.manual ?? {}).find(([begins]) => label.startsWith(begins));
    if (known) return String(known[1]);
    const numbers = (figures[0]?.digits.match(/\d+(\.\d+)?/g) ?? []).map(Number);
    if (numbers.length === 0) throw new Error(`No figure is shown for: ${label}`);
    const middle = numbers.reduce((sum, one) => sum + one, 0) / numbers.length;
    return String(figures[0]?.digits.startsWith('≤') ? middle / 2 : middle);
  }
}

/** What two pages of one station say. */
function together(before: JobSight, now: JobSight): JobSight {
  if (before.station !== now.station) return now;
  return {
    ...now,
    say: `${before.say} ${now.say}`.trim(),
    figures: [...before.figures, ...now.figures],
    asked: now.asked ?? before.asked,
    choices: now.choices.length > 0 ? now.choices : before.choices,
    witnesses: now.witnesses.length > 0 ? now.witnesses : before.witnesses,
    refused: before.refused || now.refused,
    fault: before.fault || now.fault,
  };
}

/** The shelf of the demo workshop. A long list shows only a part of its lines. */
export const onShelf = ({ screen, heading }: Sight): boolean =>
  screen === 'list' && heading === 'Low Fold Riding School';

/** Not in the middle of a figure, nor of a press. */
const settled = ({ screen, job }: Sight): boolean => screen !== 'none' && (job?.asked?.typed ?? '') === '';
