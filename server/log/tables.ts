import type { Generated } from 'kysely';

/**
 * Rows as SQLite holds them. Times are ISO 8601, lists and records are JSON, flags are 0 or 1; the
 * seal of an end covers its arrows.
 */
export interface Tables {
  archers: { id: string; name: string; hand: string; notes: string; seal: string };
  bows: {
    id: string;
    archer_id: string;
    name: string;
    hand: string;
    adjusters: string;
    notes: string;
    archived: number;
    seal: string;
  };
  set_ups: {
    id: string;
    bow_id: string;
    name: string;
    date: string;
    settings: string;
    preferred_right_mrad: number;
    preferred_up_mrad: number;
    notes: string;
    archived: number;
    seal: string;
  };
  sessions: {
    id: string;
    archer_id: string;
    bow_id: string;
    set_up_id: string;
    date: string;
    place: string;
    setting: string | null;
    wind: string;
    distance_m: number | null;
    face: string;
    notes: string;
    seal: string;
  };
  ends: {
    id: string;
    session_id: string;
    archer_id: string;
    set_up_id: string;
    shot_at: string;
    missed_fletched: number;
    missed_bare: number;
    photo_file: string | null;
    /** Of the stored photo. */
    photo_sha256: string | null;
    /** Of the photo as it was sent: the same one twice is noticed by it. */
    source_sha256: string | null;
    set_aside: number;
    notes: string;
    scoring: string;
    seal: string;
  };
  arrows: {
    end_id: string;
    place: number;
    id: string;
    x_mm: number;
    y_mm: number;
    sd_mm: number | null;
    spot: number;
    kind: string;
    zone: number;
    inner: number;
    /** As written on the shaft; null where nobody said. */
    arrow_number: string | null;
  };
  devices: {
    id: string;
    token_sha256: string;
    /** Of an archer's device; null of every other. */
    archer_id: string | null;
    paired_at: string;
    /** One of ROLES. */
    role: string;
    /** Of a coach's device. */
    coach_id: string | null;
    label: string;
    seal: string;
  };
  pairing_codes: {
    id: string;
    salt: string;
    hash: string;
    archer_id: string | null;
    expires_at: string;
    role: string;
    coach_id: string | null;
    label: string;
  };
  coaches: { id: string; name: string; seal: string };
  /** Who coaches whom. */
  coached: { coach_id: string; archer_id: string; seal: string };
  /** Who changed what; hangs on nothing, so that it outlives what it tells of. */
  trail: {
    number: Generated<number>;
    at: string;
    device_id: string | null;
    device_label: string;
    role: string;
    done: string;
    kind: string;
    thing_id: string | null;
    /** Whose it is; null where it is nobody's, or they were deleted. */
    archer_id: string | null;
  };
}
