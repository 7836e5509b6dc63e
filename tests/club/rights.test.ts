import { describe, expect, it } from 'vitest';
import {
  ACTIONS,
  may,
  mayEver,
  ownerFor,
  OWNERS,
  ROLES,
  type Action,
  type Owner,
  type Role,
} from '../../src/club/rights.ts';

/**
 * What a club agreed on, written down apart from the code. Whose it is: o(wn), of an archer whom they
 * coach (c), of another archer (x), the club's (u).
 */
const AGREED: Readonly<Record<Action, Readonly<Record<Role, string>>>> = {
  'see-own-rights': { archer: 'o', coach: 'o', keeper: 'ocxu' },
  'see-record': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'keep-record': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'delete-record': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'delete-archer': { archer: 'o', coach: '', keeper: 'ocxu' },
  export: { archer: 'o', coach: '', keeper: 'ocxu' },
  import: { archer: '', coach: '', keeper: 'ocxu' },
  'read-photo': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'see-reading': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'cancel-reading': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'work-out': { archer: 'o', coach: 'o', keeper: 'ocxu' },
  'see-devices': { archer: 'o', coach: 'oc', keeper: 'ocxu' },
  'remove-device': { archer: 'o', coach: 'o', keeper: 'ocxu' },
  pair: { archer: '', coach: 'c', keeper: 'ocxu' },
  'see-coaches': { archer: '', coach: '', keeper: 'ocxu' },
  'change-coaches': { archer: '', coach: '', keeper: 'ocxu' },
  'see-trail': { archer: '', coach: '', keeper: 'ocxu' },
};

const LETTER: Readonly<Record<Owner, string>> = { own: 'o', coached: 'c', other: 'x', club: 'u' };

describe('the table of rights', () => {
  it('says of every role, action and owner what was agreed on', () => {
    expect([...ACTIONS].sort()).toEqual(Object.keys(AGREED).sort());
    for (const action of ACTIONS) {
      for (const role of ROLES) {
        const agreed = AGREED[action][role];
        const said = OWNERS.filter((owner) => may(role, action, owner)).map((one) => LETTER[one]);
        expect([action, role, said.join('')]).toEqual([action, role, agreed]);
        expect([action, role, mayEver(role, action)]).toEqual([action, role, agreed !== '']);
      }
    }
  });

  it('tells whose something is as each sees it', () => {
    const ilka = { role: 'archer', archerId: 'ilka', coached: new Set<string>() } as const;
    const coach = { role: 'coach', archerId: null, coached: new Set(['ilka']) } as const;
    expect(['ilka', 'tomas', null].map((id) => ownerFor(ilka, id))).toEqual(['own', 'other', 'club']); // prettier-ignore
    expect(['ilka', 'tomas', null].map((id) => ownerFor(coach, id))).toEqual(['coached', 'other', 'club']); // prettier-ignore
  });
});
