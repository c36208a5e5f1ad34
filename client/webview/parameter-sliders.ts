/** Parameters with a range as sliders, each with its number to type. */
import type { PreviewParameter } from '#preview/view';
import { createFold } from './fold';
import { create } from './page';
import type { Trial } from './trial';

export interface ParameterSliders {
  readonly element: HTMLElement;
  show(parameters: readonly PreviewParameter[]): void;
}

interface Row {
  readonly name: string;
  readonly element: HTMLElement;
  show(parameter: PreviewParameter): void;
  showValue(value: number): void;
}

/**
 * @param isOpen  at first
 * @param onToggle  called when they are folded away or unfolded
 * @param trial  takes what they are moved to
 */
export function createParameterSliders(
  isOpen: boolean,
  onToggle: (open: boolean) => void,
  trial: Trial,
): ParameterSliders {
  const rows = new Map<string, Row>();
  const list = create('div', { class: 'rows' });
  const element = createFold('Parameters', isOpen, onToggle, list);
  element.classList.add('parameters');
  element.hidden = true;
  trial.onSet((name, value) => {
    for (const row of rows.values()) if (row.name === name) row.showValue(value);
  });

  const createRow = (first: PreviewParameter): Row => {
    const { name, unit } = first;
    const id = `parameter-${name}`;
    const slider = create('input', { type: 'range', id });
    const number = create('input', { type: 'number', 'aria-label': `${name}${unit ? ` in ${unit}` : ''}` });
    let shown = first;
    const showValue = (value: number): void => {
      slider.value = String(value);
      slider.setAttribute('aria-valuetext', `${value} ${unit}`.trim());
      if (document.activeElement !== number) number.value = String(value);
    };
    slider.addEventListener('input', () => trial.set(name, Number(slider.value)));
    slider.addEventListener('change', () => trial.finish(name));
    number.addEventListener('change', () => {
      if (!Number.isFinite(number.valueAsNumber)) return;
      trial.set(name, Math.min(Math.max(number.valueAsNumber, shown.low), shown.high));
      trial.finish(name);
    });
    const label = create('label', { for: id, title: first.documentation }, name);
    const row = create('div', { class: 'row' }, label, slider, number, create('span', { class: 'unit' }, unit));
    return {
      name,
      element: row,
      showValue,
      show(parameter) {
        shown = parameter;
        for (const input of [slider, number]) {
          input.min = String(parameter.low);
          input.max = String(parameter.high);
          input.step = String(parameter.step);
        }
        if (trial.values?.[name] === undefined) showValue(parameter.value);
      },
    };
  };

  return {
    element,
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
  };
}
