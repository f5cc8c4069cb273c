/** What a screen is drawn with: what its address says. A screen that needs neither may ignore them. */
export interface ScreenProps {
  readonly params: Readonly<Record<string, string>>;
  readonly query: Readonly<Record<string, string>>;
}
