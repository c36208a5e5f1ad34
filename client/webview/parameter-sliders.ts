/** Parameters with a range as sliders: what they are moved to is tried out at once and written into the text when they are let go. */
import type { PreviewParameter } from '#lsp/protocol';
import { createFold } from './fold';
import { create } from './page';

export interface ParameterSliders {
  readonly element: HTMLElement;
  /** What is being tried out, by name; undefined where nothing is. */
  readonly values: Readonly<Record<string, number>> | undefined;
  show(parameters: readonly PreviewParameter[]): void;
  /** Takes back what is tried out: the text has it, or another appliance is shown. */
  settle(): void;
}

interface Row {
  readonly element: HTMLElement;
  show(parameter: PreviewParameter): void;
}

/**
 * @param isOpen  at first
 * @param onToggle  called when they are folded away or unfolded
 * @param tryOut  called while a slider moves
 * @param write  called when it is let go, or a number is typed
 */
export function createParameterSliders(
  isOpen: boolean,
  onToggle: (open: boolean) => void,
  tryOut: () => void,
  write: (values: Record<string, number>) => void,
): ParameterSliders {
  const rows = new Map<string, Row>();
  let values: Record<string, number> | undefined;
  let moving = false;
  let writing: number | undefined;
  const list = create('div', { class: 'rows' });
  const element = createFold('Parameters', isOpen, onToggle, list);
  element.classList.add('parameters');
  element.hidden = true;

  const createRow = (first: PreviewParameter): Row => {
    const { name, unit } = first;
    const id = `parameter-${name}`;
    const slider = create('input', { type: 'range', id });
    const number = create('input', { type: 'number', 'aria-label': `${name}${unit ? ` in ${unit}` : ''}` });
    let shown = first;
    const setTo = (value: number): void => {
      values = { ...values, [name]: value };
      slider.value = String(value);
      slider.setAttribute('aria-valuetext', `${value} ${unit}`.trim());
      if (document.activeElement !== number) number.value = String(value);
    };
    const finish = (): void => {
      clearTimeout(writing);
      // Arrow keys let go at every press: one edit for a run of them.
      writing = setTimeout(() => {
        moving = false;
        if (values?.[name] !== undefined) write({ [name]: values[name] });
      }, PAUSE);
    };
    slider.addEventListener('input', () => {
      clearTimeout(writing);
      moving = true;
      setTo(Number(slider.value));
      tryOut();
    });
    slider.addEventListener('change', finish);
    number.addEventListener('change', () => {
      if (!Number.isFinite(number.valueAsNumber)) return;
      setTo(Math.min(Math.max(number.valueAsNumber, shown.low), shown.high));
      finish();
    });
    const label = create('label', { for: id, title: first.documentation }, name);
    const row = create('div', { class: 'row' }, label, slider, number, create('span', { class: 'unit' }, unit));
    return {
      element: row,
      show(parameter) {
        shown = parameter;
        for (const input of [slider, number]) {
          input.min = String(parameter.low);
          input.max = String(parameter.high);
          input.step = String(parameter.step);
        }
        if (values?.[name] !== undefined) return;
        slider.value = String(parameter.value);
        slider.setAttribute('aria-valuetext', `${parameter.value} ${unit}`.trim());
        if (document.activeElement !== number) number.value = String(parameter.value);
      },
    };
  };

  return {
    element,
    get values() {
      return values;
    },
    show(parameters) {
      element.hidden = parameters.length === 0;
      const keys = parameters.map(({ name, unit }) => `${name} ${unit}`);
      if (keys.join('\n') !== [...rows.keys()].join('\n')) {
        rows.clear();
        for (const [k, parameter] of parameters.entries()) rows.set(keys[k], createRow(parameter));
        list.replaceChildren(...[...rows.values()].map((row) => row.element));
      }
      for (const [k, parameter] of parameters.entries()) rows.get(keys[k])?.show(parameter);
    },
    settle() {
      // News of the text's own results must not take the slider out of the user's hand.
      if (!moving) values = undefined;
    },
  };
}

/** ms */
const PAUSE = 250;
