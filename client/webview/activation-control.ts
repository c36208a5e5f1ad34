/** How far the appliance is activated: a slider, the same number to type, playing through, and back to the working activation. */
import type { PreviewContent } from '#lsp/protocol';
import { create } from './page';

type Range = NonNullable<PreviewContent['activation']>;

export interface ActivationControl {
  readonly element: HTMLElement;
  /** `chosen` says whether the value is the user's own or the file's working activation. */
  show(range: Range | undefined, chosen: boolean): void;
  /** Takes over the range but leaves what the user is about to set. */
  showRange(range: Range): void;
}

/** How long playing through the whole range takes, in milliseconds. */
const playingTime = 4000;

/**
 * @param choose  called with mm from neutral, or undefined for the working activation
 */
export function createActivationControl(choose: (activation: number | undefined) => void): ActivationControl {
  const slider = create('input', { type: 'range', id: 'activation', 'aria-describedby': 'activation-range' });
  const number = create('input', { type: 'number', 'aria-label': 'Activation in millimetres from neutral' });
  const play = create('button', { type: 'button', class: 'play' });
  const reset = create('button', { type: 'button', class: 'reset' }, 'Working activation');
  const span = create('span', { id: 'activation-range', class: 'range' });
  const element = create(
    'section',
    { class: 'activation', 'aria-label': 'Activation', hidden: true },
    create('label', { for: 'activation' }, 'Activation'),
    play,
    slider,
    create('span', { class: 'amount' }, number, create('span', { class: 'unit', 'aria-hidden': 'true' }, 'mm')),
    span,
    reset,
  );
  let shown: Range | undefined;
  let frame: number | undefined;

  const showValue = (value: number): void => {
    const text = formatAmount(value);
    slider.value = String(value);
    slider.setAttribute('aria-valuetext', `${text} mm from neutral`);
    if (document.activeElement !== number) number.value = text;
  };

  const stop = (): void => {
    if (frame !== undefined) cancelAnimationFrame(frame);
    frame = undefined;
    showPlaying(play, false);
  };

  const start = (): void => {
    if (!shown) return;
    const { from, to } = shown;
    const value = Number(slider.value);
    const first = value >= to ? from : value;
    const started = performance.now();
    const next = (now: number): void => {
      const reached = Math.min(first + ((now - started) / playingTime) * (to - from), to);
      showValue(reached);
      choose(reached);
      if (reached < to) frame = requestAnimationFrame(next);
      else stop();
    };
    showPlaying(play, true);
    frame = requestAnimationFrame(next);
  };

  slider.addEventListener('input', () => {
    stop();
    showValue(Number(slider.value));
    choose(Number(slider.value));
  });
  number.addEventListener('input', () => {
    stop();
    const value = number.valueAsNumber;
    if (!shown || !Number.isFinite(value)) return;
    const within = Math.min(Math.max(value, shown.from), shown.to);
    showValue(within);
    choose(within);
  });
  number.addEventListener('blur', () => showValue(Number(slider.value)));
  play.addEventListener('click', () => (frame === undefined ? start() : stop()));
  reset.addEventListener('click', () => {
    stop();
    choose(undefined);
  });
  showPlaying(play, false);

  const showRange = (range: Range): void => {
    shown = range;
    for (const input of [slider, number]) {
      input.min = String(range.from);
      input.max = String(range.to);
    }
    // The stages are far apart; between them the slider moves in tenths of a stage.
    slider.step = String(range.step / 10);
    number.step = 'any';
    span.textContent = `${formatAmount(range.from)} to ${formatAmount(range.to)} mm from neutral`;
  };

  return {
    element,
    showRange,
    show(range, chosen) {
      element.hidden = range === undefined || range.to <= range.from;
      reset.disabled = !chosen;
      if (!range) {
        stop();
        shown = undefined;
        return;
      }
      showRange(range);
      if (frame === undefined) showValue(range.value);
    },
  };
}

function showPlaying(play: HTMLButtonElement, playing: boolean): void {
  play.textContent = playing ? 'Pause' : 'Play';
  play.setAttribute('aria-label', playing ? 'Stop playing through the activation' : 'Play through the activation');
}

/** To a hundredth of a millimetre, which is finer than anyone activates. */
const formatAmount = (value: number): string => String(Math.round(value * 100) / 100);
