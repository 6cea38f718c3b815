/** What is known of a ledger before its first entry. */
export interface Starter {
  readonly title: string;
  readonly fruit: string | undefined;
  readonly place: string | undefined;
  /** Degrees north; negative in the south. */
  readonly latitude: number | undefined;
  readonly units: 'metric' | 'imperial' | undefined;
  /** The season that today lies in. */
  readonly season: number;
}
