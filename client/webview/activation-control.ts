/** How far the appliance is activated: a slider, the same number to type, playing through, and back to the working activation. */
import type { PreviewContent } from '#preview/view';
import { create, icon } from './page';

type Range = NonNullable<PreviewContent['activation']>;

export interface ActivationControl {
  readonly element: HTMLElement;
  /** `chosen` says whether the value is the user's own or the file's working activation. */
  show(range: Range | undefined, chosen: boolean): void;
  /** Takes over the range but leaves what the user is about to set. */
  showRange(range: Range): void;
}

/** How long playing takes from one stage to the next, in milliseconds: slow enough to follow. */
const stageTime = 600;
/** The slider's steps between two stages. */
const stepsPerStage = 10;

const paths = {
  play: 'M4 2.5v11l9-5.5z',
  pause: 'M4 2.5h3v11H4zM9 2.5h3v11H9z',
  reset: 'M8 3a5 5 0 1 1-4.9 6h1.5A3.5 3.5 0 1 0 8 4.5H5.6l1.7 1.7-1 1L2.8 3.7 6.3.2l1 1L5.5 3z',
};

/**
 * @param choose  called with mm from neutral, or undefined for the working activation
 */
export function createActivationControl(choose: (activation: number | undefined) => void): ActivationControl {
  const slider = create('input', { type: 'range', id: 'activation' });
  const number = create('input', { type: 'number', 'aria-label': 'Activation in millimetres from neutral' });
  const play = create('button', { type: 'button' });
  const reset = create('button', { type: 'button', ...named('Back to the working activation') }, icon(paths.reset));
  const lowest = create('span');
  const largest = create('span');
  const element = create(
    'section',
    { class: 'activation', 'aria-label': 'Activation', hidden: true },
    create('label', { for: 'activation' }, 'Activation'),
    play,
    create('div', { class: 'track' }, slider, create('div', { class: 'ends', 'aria-hidden': 'true' }, lowest, largest)),
    create('span', { class: 'amount' }, number, create('span', { class: 'unit', 'aria-hidden': 'true' }, 'mm')),
    reset,
  );
  let shown: Range | undefined;
  let timer: number | undefined;

  const showValue = (value: number): void => {
    const text = formatAmount(value);
    slider.value = String(value);
    slider.setAttribute('aria-valuetext', `${text} mm from neutral`);
    if (document.activeElement !== number) number.value = text;
  };

  const set = (value: number): void => {
    showValue(value);
    choose(value);
  };

  const showPlaying = (): void => {
    const playing = timer !== undefined;
    play.replaceChildren(icon(playing ? paths.pause : paths.play));
    for (const [key, value] of Object.entries(named(playing ? 'Stop playing' : 'Play through the activation'))) {
      play.setAttribute(key, value);
    }
  };

  const stop = (): void => {
    clearInterval(timer);
    timer = undefined;
    showPlaying();
  };

  const start = (): void => {
    if (Number(slider.value) >= Number(slider.max)) set(Number(slider.min));
    timer = setInterval(() => {
      slider.stepUp();
      set(Number(slider.value));
      if (Number(slider.value) >= Number(slider.max)) stop();
    }, stageTime / stepsPerStage);
    showPlaying();
  };

  slider.addEventListener('input', () => {
    stop();
    set(Number(slider.value));
  });
  number.addEventListener('input', () => {
    stop();
    const value = number.valueAsNumber;
    if (shown && Number.isFinite(value)) set(Math.min(Math.max(value, shown.from), shown.to));
  });
  number.addEventListener('blur', () => showValue(Number(slider.value)));
  play.addEventListener('click', () => (timer === undefined ? start() : stop()));
  reset.addEventListener('click', () => {
    stop();
    choose(undefined);
  });
  showPlaying();

  const showRange = (range: Range): void => {
    shown = range;
    for (const input of [slider, number]) {
      input.min = String(range.from);
      input.max = String(range.to);
      input.step = String(range.step / stepsPerStage);
    }
    lowest.textContent = formatAmount(range.from);
    largest.textContent = formatAmount(range.to);
  };

  return {
    element,
    showRange,
    show(range, chosen) {
      element.hidden = range === undefined;
      reset.disabled = !chosen;
      shown = range;
      if (!range) {
        stop();
        return;
      }
      showRange(range);
      showValue(range.value);
    },
  };
}

/** A button that shows an icon tells its name to pointer and screen reader alike. */
const named = (name: string) => ({ title: name, 'aria-label': name });

/** To a thousandth of a millimetre, which is finer than anyone activates. */
const formatAmount = (value: number): string => String(Math.round(value * 1000) / 1000);
