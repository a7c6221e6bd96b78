/** The colours plots take from the style sheet, so that light, dark and print have one source. */
export interface Theme {
  ink: string;
  quiet: string;
  line: string;
  grid: string;
  paper: string;
  accent: string;
  second: string;
  glassy: string;
  leathery: string;
  rubbery: string;
  dark: boolean;
  font: string;
}

/** The colours of the style sheet as they are now, light or dark. */
export function currentTheme(): Theme {
  const style = getComputedStyle(document.documentElement);
  const value = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: value("ink"),
    quiet: value("quiet"),
    line: value("line"),
    grid: value("grid"),
    paper: value("paper"),
    accent: value("accent"),
    second: value("second"),
    glassy: value("glassy"),
    leathery: value("leathery"),
    rubbery: value("rubbery"),
    dark: value("scheme") === "dark",
    font: style.fontFamily,
  };
}
