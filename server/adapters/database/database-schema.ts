import type { Generated } from 'kysely';

/**
 * Rows as they are stored, in types that SQLite and Postgres share: text, whole and broken numbers. Ids are UUIDs as text,
 * moments are RFC 3339 text in UTC with milliseconds (text order is time order), flags are 0 or 1.
 */
type Flag = 0 | 1;

export interface Database {
  people: {
    id: string;
    name: string;
    sign_in_name: string;
    role: string;
    is_active: Flag;
    password_hash: string | null;
    created_at: string;
    last_seen_at: string | null;
    search_text: string;
  };
  sessions: {
    id: string;
    token_hash: string;
    person_id: string;
    device: string;
    created_at: string;
    last_seen_at: string;
    expires_at: string;
  };
  invitations: { person_id: string; token_hash: string; expires_at: string };
  jobs: {
    id: string;
    name: string;
    customer: string;
    note: string;
    is_invented: Flag;
    is_put_away: Flag;
    created_at: string;
    created_by: string | null;
    last_activity_at: string;
    search_text: string;
  };
  zones: {
    id: string;
    job_id: string;
    name: string;
    note: string;
    surface_kind: string;
    thickness_mm: number | null;
    area_m2: number | null;
    target_grade: string | null;
    machine_id: string | null;
    label_code: string;
    is_put_away: Flag;
    standing: string;
    created_at: string;
    created_by: string | null;
    last_activity_at: string;
    search_text: string;
  };
  rounds: {
    id: string;
    zone_id: string;
    number: number;
    settings_json: string | null;
    machine_id: string | null;
    card_id: string | null;
    scrape_test: string | null;
    heat_tint: Flag | null;
    minutes_spent: number | null;
    note: string;
    before_photo_id: string | null;
    before_outline_json: string | null;
    after_photo_id: string | null;
    after_outline_json: string | null;
    created_at: string;
    created_by: string | null;
    updated_at: string;
  };
  photos: {
    id: string;
    upload_id: string | null;
    sha256: string;
    file_name: string;
    media_type: string;
    size_bytes: number;
    width_px: number;
    height_px: number;
    taken_at_json: string | null;
    added_at: string;
    added_by: string | null;
  };
  assessments: {
    id: string;
    job_id: string;
    zone_id: string;
    round_id: string;
    state: string;
    queued_at: string;
    started_at: string | null;
    finished_at: string | null;
    requested_by: string | null;
    target_grade: string | null;
    before_photo_id: string | null;
    after_photo_id: string;
    card_id: string | null;
    basis_json: string;
    program_version: string;
    residue_value: number | null;
    residue_low: number | null;
    residue_high: number | null;
    stain_value: number | null;
    stain_low: number | null;
    stain_high: number | null;
    streak_kind: string | null;
    verdict: string | null;
    decision: string | null;
    minutes_per_square_metre: number | null;
    card_error_median: number | null;
    card_error_p95: number | null;
    card_error_max: number | null;
    corrected_json: string | null;
    fault_code: string | null;
    fault_sentence: string | null;
    overlay_sha256: string | null;
    before_map_json: string | null;
    after_map_json: string | null;
  };
  assessment_results: { assessment_id: string; result_json: string; streak_lines_json: string | null };
  corrections: {
    id: string;
    assessment_id: string;
    map: string;
    marks_json: string;
    may_train: Flag;
    reason: string;
    made_at: string;
    made_by: string | null;
    withdrawn_at: string | null;
    withdrawn_by: string | null;
  };
  machines: {
    id: string;
    name: string;
    note: string;
    serial_number: string;
    machine_json: string;
    dial_steps_json: string;
    is_invented: Flag;
    is_put_away: Flag;
    created_at: string;
    updated_at: string;
    search_text: string;
  };
  cards: {
    id: string;
    name: string;
    edition: number;
    note: string;
    values_json: string | null;
    values_text: string | null;
    is_put_away: Flag;
    created_at: string;
    updated_at: string;
    search_text: string;
  };
  lessons: {
    id: string;
    title: string;
    note: string;
    assessment_id: string | null;
    settings_json: string | null;
    machine_id: string | null;
    created_at: string;
    created_by: string | null;
    updated_at: string;
    search_text: string;
  };
  comparisons: {
    id: string;
    title: string;
    state: string;
    request_json: string;
    result_json: string;
    fault_code: string | null;
    fault_sentence: string | null;
    created_at: string;
    created_by: string | null;
    search_text: string;
  };
  trials: {
    id: string;
    name: string;
    machine_id: string;
    plan_json: string;
    comparison_id: string | null;
    result_json: string | null;
    created_at: string;
    created_by: string | null;
    updated_at: string;
    search_text: string;
  };
  test_patches: {
    id: string;
    zone_id: string;
    after_round: number;
    settings_json: string;
    machine_id: string | null;
    scrape_test: string | null;
    heat_tint: Flag | null;
    residue_json: string;
    how: string;
    comparison_id: string | null;
    travel_speed_json: string | null;
    created_at: string;
    created_by: string | null;
  };
  forgotten_learning: { machine_id: string; kind: string; forgotten_at: string };
  audit_log: { sequence: number; entry_json: string };
  records: {
    id: string;
    zone_id: string;
    state: string;
    readings_json: string;
    /** Canonical JSON: fixed when the record is marked ready, with the decision once it is signed. */
    record_text: string | null;
    seal_json: string | null;
    supersedes_id: string | null;
    signed_at: string | null;
    signer_name: string | null;
    time_stamp_base64: string | null;
    created_at: string;
    created_by: string | null;
    updated_at: string;
  };
  record_files: { record_id: string; path: string; sha256: string };
  shop: { key: string; value_json: string };
  queue: {
    id: Generated<number>;
    kind: string;
    subject_id: string;
    state: 'waiting' | 'leased';
    /** Order among the waiting: the id, or further back. */
    turn: number;
    failures: number;
    interruptions: number;
    not_before: string;
    enqueued_at: string;
  };
}
