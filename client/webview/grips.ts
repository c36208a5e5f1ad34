/**
 * What takes hold of the drawing's handles: an element over each, for the pointer and the keyboard. The drawing is a picture, in which
 * nothing can have the focus; and it is replaced at every movement, which a grip in someone's hand must not be.
 */
import type { PreviewHandle } from '#preview/view';
import { create } from './page';
import type { Trial } from './trial';

export interface Grips {
  readonly element: HTMLElement;
  /** One of them is held. */
  readonly held: boolean;
  /** For the handles of the drawing that the canvas shows now. */
  show(handles: readonly PreviewHandle[]): void;
  /** The canvas shows another part of the drawing. */
  place(): void;
  /** While one is held: shows the drawing so that what stands still in it stays under the pointer. */
  keepStill(): void;
}

interface Grip {
  readonly element: HTMLElement;
  show(handle: PreviewHandle): void;
  showValue(value: number): void;
}

/** What a movement comes to, as long as a grip is held. */
interface Hold {
  readonly name: string;
  /** What it was being tried out with before; undefined where the text's own value stood. */
  readonly before: number | undefined;
  readonly start: number;
  /** The parameter's value for a place of the pointer. */
  valueAt(event: PointerEvent): number;
  readonly paper: Paper;
}

/** Where the drawing's millimetres lie on the canvas. */
interface Paper {
  readonly origin: readonly [number, number];
  readonly scale: number;
  readonly box: readonly number[];
}

export function createGrips(canvas: HTMLElement, trial: Trial): Grips {
  const grips = new Map<string, Grip>();
  const element = create('div', { class: 'grips' });
  let hold: Hold | undefined;
  trial.onSet((name, value) => grips.get(name)?.showValue(value));

  const place = (): void => {
    const box = viewBox(canvas);
    for (const [name, grip] of grips) {
      const at = numbers(handleOf(canvas, name)?.dataset.at);
      const [left, top] = box && at ? [(at[0] - box[0]) / box[2], (at[1] - box[1]) / box[3]] : [-1, -1];
      const isOutside = left < 0 || left > 1 || top < 0 || top > 1;
      grip.element.hidden = isOutside && hold?.name !== name;
      if (isOutside) continue;
      // Set by script, which the page's policy lets pass.
      grip.element.style.left = `${100 * left}%`;
      grip.element.style.top = `${100 * top}%`;
      grip.element.classList.toggle('leftward', left > 0.7);
    }
  };

  const createGrip = (first: PreviewHandle): Grip => {
    const { name, unit, kind } = first;
    const words = create('span', { class: 'grip-words', 'aria-hidden': 'true' });
    const grip = create(
      'div',
      {
        class: 'grip',
        tabindex: 0,
        // Without ends of its own a slider would be taken for one from 0 to 100.
        role: first.low === undefined || first.high === undefined ? 'spinbutton' : 'slider',
        'aria-label': `${name}, ${kind} in the drawing`,
        title: first.documentation,
      },
      words,
    );
    let shown = first;
    const showValue = (value: number): void => {
      const text = `${value} ${unit}`.trim();
      words.textContent = `${name} ${text}`;
      grip.setAttribute('aria-valuenow', String(value));
      grip.setAttribute('aria-valuetext', text);
    };
    const value = (): number => trial.values?.[name] ?? shown.value;
    const set = (next: number): void => {
      const fitting = toStep(next, shown);
      if (fitting !== value()) trial.set(name, fitting);
    };
    const letGo = (): void => {
      hold = undefined;
      grip.classList.remove('held');
    };

    grip.addEventListener('pointerdown', (event) => {
      const paper = paperOf(canvas, name);
      const valueAt = paper && movement(canvas, name, value(), shown.factor, event);
      if (event.button !== 0 || !valueAt) return;
      event.preventDefault();
      grip.focus();
      grip.setPointerCapture(event.pointerId);
      grip.classList.add('held');
      hold = { name, before: trial.values?.[name], start: value(), valueAt, paper };
    });
    grip.addEventListener('pointermove', (event) => {
      if (hold?.name === name) set(hold.valueAt(event));
    });
    grip.addEventListener('pointerup', () => {
      if (hold?.name !== name) return;
      const { before, start } = hold;
      letGo();
      if (trial.values?.[name] === undefined) return;
      // Moved away and back is no edit.
      if (before === undefined && trial.values[name] === start) trial.cancel(name);
      else trial.finish(name);
    });
    grip.addEventListener('pointercancel', () => {
      letGo();
      trial.cancel(name);
    });
    grip.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') {
        if (trial.values?.[name] === undefined) return;
        letGo();
        trial.cancel(name);
      } else {
        const next = keyed(event.key, value(), shown);
        if (next === undefined) return;
        set(next);
        trial.finish(name);
      }
      event.preventDefault();
    });
    return {
      element: grip,
      showValue,
      show(handle) {
        shown = handle;
        for (const [key, end] of [
          ['aria-valuemin', handle.low],
          ['aria-valuemax', handle.high],
        ] as const) {
          if (end === undefined) grip.removeAttribute(key);
          else grip.setAttribute(key, String(end));
        }
        if (trial.values?.[name] === undefined) showValue(handle.value);
      },
    };
  };

  return {
    element,
    get held() {
      return hold !== undefined;
    },
    show(handles) {
      const drawn = handles.filter(({ name }) => handleOf(canvas, name));
      const kept = new Set(drawn.map(({ name }) => name));
      for (const [name, grip] of [...grips]) {
        if (kept.has(name) || hold?.name === name) continue;
        grip.element.remove();
        grips.delete(name);
      }
      for (const handle of drawn) {
        let grip = grips.get(handle.name);
        if (!grip) {
          grip = createGrip(handle);
          grips.set(handle.name, grip);
          element.append(grip.element);
        }
        grip.show(handle);
      }
      place();
    },
    place,
    keepStill() {
      const svg = canvas.querySelector('svg');
      const now = hold && paperOf(canvas, hold.name);
      if (!svg || !hold || !now) return;
      const { origin, scale, box } = hold.paper;
      const part = now.scale / scale;
      const [left, top] = [0, 1].map((k) => now.origin[k] - (origin[k] - box[k]) * part);
      svg.setAttribute('viewBox', [left, top, box[2] * part, box[3] * part].join(' '));
    },
  };
}

/** What the parameter comes to as the pointer moves from where it took hold; undefined where the drawing has no such handle. */
function movement(
  canvas: HTMLElement,
  name: string,
  start: number,
  factor: number,
  from: PointerEvent,
): ((event: PointerEvent) => number) | undefined {
  const drawn = handleOf(canvas, name);
  const matrix = canvas.querySelector('svg')?.getScreenCTM()?.inverse();
  if (!drawn || !matrix) return undefined;
  const onCanvas = ({ clientX, clientY }: PointerEvent) => new DOMPoint(clientX, clientY).matrixTransform(matrix);
  const first = onCanvas(from);
  const along = numbers(drawn.dataset.along);
  if (along) {
    const [right, down] = along;
    return (event) => {
      const { x, y } = onCanvas(event);
      return start + ((x - first.x) * right + (y - first.y) * down) / (right * right + down * down) / factor;
    };
  }
  const about = numbers(drawn.dataset.about);
  const turn = Number(drawn.dataset.turn);
  if (!about || !turn) return undefined;
  const angleOf = ({ x, y }: DOMPoint): number => Math.atan2(y - about[1], x - about[0]);
  let last = angleOf(first);
  let turned = 0;
  return (event) => {
    const angle = angleOf(onCanvas(event));
    // The shorter way round since the last movement.
    turned += Math.atan2(Math.sin(angle - last), Math.cos(angle - last));
    last = angle;
    return start + turned / turn / factor;
  };
}

/** Undefined for keys that have nothing to say here. */
function keyed(key: string, value: number, { step, low, high }: PreviewHandle): number | undefined {
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return value + step;
    case 'ArrowLeft':
    case 'ArrowDown':
      return value - step;
    case 'PageUp':
      return value + 10 * step;
    case 'PageDown':
      return value - 10 * step;
    case 'Home':
      return low;
    case 'End':
      return high;
    default:
      return undefined;
  }
}

/** Within the ends, in whole steps from the lower one. */
function toStep(value: number, { step, low, high }: PreviewHandle): number {
  const base = low ?? 0;
  const stepped = base + Math.round((value - base) / step) * step;
  const within = Math.min(Math.max(stepped, low ?? stepped), high ?? stepped);
  return Number(within.toPrecision(12));
}

function handleOf(canvas: HTMLElement, name: string): SVGElement | undefined {
  const handles = [...canvas.querySelectorAll<SVGElement>('.handle')];
  return handles.find(({ dataset }) => dataset.parameter === name);
}

function paperOf(canvas: HTMLElement, name: string): Paper | undefined {
  const svg = canvas.querySelector('svg');
  const view = handleOf(canvas, name)?.closest<SVGElement>('.view');
  const origin = numbers(view?.dataset.origin);
  const box = viewBox(canvas);
  if (!svg || !origin || !box) return undefined;
  return { origin: [origin[0], origin[1]], scale: Number(svg.dataset.scale), box };
}

const viewBox = (canvas: HTMLElement): number[] | undefined =>
  numbers(canvas.querySelector('svg')?.getAttribute('viewBox') ?? undefined);

const numbers = (text: string | undefined): number[] | undefined => text?.split(' ').map(Number);
