import type { Hand } from '../../src/request/request.ts';
import { say } from '../state/words.ts';
import { Choice } from './choice.tsx';

interface Props {
  readonly label: string;
  /** Null while nobody has said. */
  readonly value: Hand | null;
  readonly onChange: (hand: Hand) => void;
}

/** Which hand draws the bow: it is never assumed, as it mirrors what lies sideways. */
export function HandChoice({ label, value, onChange }: Props) {
  return (
    <Choice
      label={label}
      value={value}
      options={[
        { value: 'right', label: say('right-handed') },
        { value: 'left', label: say('left-handed') },
      ]}
      onChange={onChange}
    />
  );
}
