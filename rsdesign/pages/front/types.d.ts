// What pages and their program say to each other, and what a server tells its pages; for the type checker.

/** What a person did. */
interface Message {
  do: string;
  path?: string;
  [more: string]: any;
}

/** A message with its number, which the answer repeats. */
interface Numbered {
  n: number;
  message: Message;
}

/** What a widget's model, or our own line, does for a page. */
interface Model {
  on(name: string, f: (content: any, buffers: any[]) => void): void;
  off(name: string, f: (content: any, buffers: any[]) => void): void;
  send(content: any): void;
  get?(name: string): any;
}

/** What is not answered yet; see outbox.js. */
interface OutboxState {
  kept: Map<number, Numbered>;
  live: boolean;
  onLine: number;
  everSent: number;
  answered: number;
  tooMany: boolean;
}

/** What a box of text holds; see entry.js. */
interface EntryState {
  shown: string;
  known: string;
  knownUnits: string;
  typed: boolean;
  units: string;
  said: Said | null;
  number: number;
  caret: boolean;
}

interface Said {
  text: string;
  units: string;
}

/** A text that was typed and not answered, kept through a reload. */
interface Draft extends Said {
  path: string;
}

interface Entry {
  box: HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;
  leave(): void;
  told(text: string, units?: string): void;
  answered(number: number): void;
  lock(): void;
  again(text: string, units: string): void;
  unanswered(): Draft | null;
  end(): void;
}

/** A page's way to say something; it gives the number of the message. */
interface Say {
  (message: Message, drag?: string): number;
  entries: Set<Entry>;
  held: Map<string, { box: HTMLInputElement; entry: Entry | null }>;
  listeners: Set<(answered: number) => void>;
  last: number;
  heard: number;
  turn(page: string): void;
  leaveAll(): void;
  answered(number: number): void;
  lockAll(): void;
  unanswered(): Draft[];
}

interface SeriesPage {
  name: string;
  file: string;
  title: string;
}

/** The state of a design as a whole. */
interface Frame {
  page: string;
  title: string;
  name: string;
  token: string;
  units: string;
  full: boolean;
  stale: boolean;
  undo: boolean;
  redo: boolean;
  summary: string;
  lead: string;
  notice: string;
  laid: string;
  question: string;
  words: string[];
  series: SeriesPage[];
  class: SeriesPage[];
  pins: { name: string; token: string }[];
  guesses: any;
  own: any;
  room_differs?: boolean;
  all?: SeriesPage[];
  more?: () => void;
}

/** The blocks of a page by name; those that changed, or all. What is in one is said in pages/blocks.py. */
type Blocks = Record<string, any>;

interface AnswerField {
  el: HTMLElement;
  mark: HTMLElement;
  boxes: HTMLElement[];
  read(): any;
  put(now: any): void;
}

/** What pages of a room start from. */
interface RoomSettings {
  number: number;
  message: string;
  path: string[];
  values: Record<string, string>;
  units: string;
}

interface Team {
  name: string;
  code: string;
  key: string;
  members: number;
  driver: boolean;
  driving: boolean;
  token?: string;
}

interface TeamAsked {
  name: string;
  code: string;
}

interface Room {
  el: HTMLElement;
  bar: HTMLElement;
  wall: HTMLElement;
  path: string[];
  following: boolean;
  redraw(): void;
  changed(settings: RoomSettings, late?: boolean): void;
  design(frame: Frame): void;
  first(): Promise<RoomSettings | null>;
  take(reply: any): boolean;
}

interface Window {
  /** What a server tells its pages; see pages/server/app.py and pages/room/handlers.py. */
  rsSeries?: Record<string, string>;
  rsClass?: Record<string, string>;
  rsPlotly?: string;
  rsRoom?: string;
  rsLan?: string;
  rsHub?: { mine: string; theirs: string };
  rsBase?: string;
  /** What pages tell each other's parts. */
  rsServed?: boolean;
  rsKept?: string;
  rsStart(): void;
  Plotly?: any;
}
