import { Fragment, type ComponentChild } from 'preact';

interface Props {
  /** Text in which <b> and </b> stand around what is set off. */
  readonly children: string;
  /** How that is shown. @default bold */
  readonly mark?: (part: string) => ComponentChild;
}

/** A text of which parts are set off, wherever a language puts them. */
export function Rich({ children, mark = (part) => <b>{part}</b> }: Props) {
  const parts = children.split(/<b>(.*?)<\/b>/);
  return (
    <>
      {parts.map((part, i) => (
        <Fragment key={i}>{i % 2 === 1 ? mark(part) : part}</Fragment>
      ))}
    </>
  );
}
