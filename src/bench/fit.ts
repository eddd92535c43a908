/**
 * Sets `--fit` on the element to the largest size (in px, between the limits) at which its content does not overflow.
 * A sentence of one line and one of four are then both as large as their room allows.
 */
export function fitText(element: HTMLElement, smallest: number, largest: number): void {
  const fits = (size: number) => {
    element.style.setProperty('--fit', `${size}px`);
    return element.scrollHeight <= element.clientHeight + 1 && element.scrollWidth <= element.clientWidth + 1;
  };
  if (fits(largest)) return;
  let low = smallest;
  let high = largest;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (fits(middle)) low = middle;
    else high = middle;
  }
  fits(low);
}
