/** The sheet's colours as the page has them now, light or dark. */

export type Inks = { paper: string; sheet: string; held: string; soft: string; ink: string };

export function inksOf(element: Element): Inks {
  const style = getComputedStyle(element);
  const named = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return { paper: named("paper"), sheet: named("sheet"), held: named("held"), soft: named("soft"), ink: named("ink") };
}
