-- The house: people and sessions, shop rules, the press and its bolsters, equipment and its reservations,
-- plates with their revisions and reports, bookings, the trail.
-- Instants are timestamptz(3), lengths numeric millimetres, ids uuid. Every constraint has a name that the
-- service knows; rules that must hold whoever writes are constraints or triggers here.

create extension if not exists btree_gist;

create function refuse_change() returns trigger language plpgsql as $$
begin
  raise exception 'rows of % are never changed or deleted', tg_table_name
    using errcode = 'PS001', constraint = tg_table_name || '_append_only';
end $$;

-- One row: what this database is.
create table installation (
  only_row boolean primary key default true constraint installation_only_row check (only_row),
  demo boolean not null,
  token_secret text not null constraint installation_token_secret_long check (length(token_secret) >= 43),
  first_run_token_hash text,
  created_at timestamptz(3) not null default now()
);

create table member (
  id uuid primary key default gen_random_uuid(),
  email text constraint member_email_shape check (email = lower(email) and email like '_%@_%' and length(email) <= 254),
  display_name text not null constraint member_display_name_length check (length(btrim(display_name)) between 1 and 60),
  role text not null constraint member_role check (role in ('member', 'steward', 'admin')),
  state text not null default 'active' constraint member_state check (state in ('active', 'suspended', 'left')),
  password_hash text constraint member_password_hash_argon2id check (password_hash like '$argon2id$%'),
  created_at timestamptz(3) not null default now(),
  constraint member_active_has_email check (state = 'left' or email is not null)
);
create unique index member_email_once on member (email);

create table session (
  id_hash text primary key constraint session_id_hash_sha256 check (id_hash ~ '^[0-9a-f]{64}$'),
  member_id uuid not null constraint session_member references member (id),
  created_at timestamptz(3) not null,
  last_seen_at timestamptz(3) not null,
  expires_at timestamptz(3) not null,
  ended_at timestamptz(3),
  constraint session_order check (created_at < expires_at and created_at <= last_seen_at)
);
create index session_of_member on session (member_id) where ended_at is null;

-- Rates and failures, counted where every process sees them.
create table rate_count (
  bucket text not null constraint rate_count_bucket_length check (length(bucket) <= 200),
  window_start timestamptz(3) not null,
  hits integer not null constraint rate_count_hits_positive check (hits > 0),
  primary key (bucket, window_start)
);

create table idempotency_key (
  actor_id uuid not null constraint idempotency_key_actor references member (id),
  route text not null,
  key text not null constraint idempotency_key_length check (length(key) between 1 and 200),
  body_hash text not null,
  status integer not null,
  reply jsonb not null,
  created_at timestamptz(3) not null,
  primary key (actor_id, route, key)
);

-- The workshop's own limits: a new version for every change, in force from a date.
create table shop_rule (
  version integer primary key constraint shop_rule_version_positive check (version > 0),
  valid_from timestamptz(3) not null,
  rules jsonb not null constraint shop_rule_object check (jsonb_typeof(rules) = 'object'),
  set_by uuid constraint shop_rule_set_by references member (id),
  created_at timestamptz(3) not null default now()
);
create unique index shop_rule_valid_from_once on shop_rule (valid_from);
create trigger shop_rule_append_only before update or delete on shop_rule
  for each row execute function refuse_change();

create table press (
  id uuid primary key default gen_random_uuid(),
  name text not null constraint press_name_length check (length(btrim(name)) between 1 and 60),
  created_at timestamptz(3) not null default now()
);

create table press_version (
  press_id uuid not null constraint press_version_press references press (id),
  version integer not null constraint press_version_positive check (version > 0),
  clamp_kind text not null constraint press_version_clamp_kind check (clamp_kind in ('hydraulic', 'toggle')),
  clamp_min_kn numeric(8, 1) not null,
  clamp_max_kn numeric(8, 1) not null,
  tie_bars_width_mm numeric(8, 2) not null constraint press_version_tie_bars_width check (tie_bars_width_mm > 0),
  tie_bars_height_mm numeric(8, 2) not null constraint press_version_tie_bars_height check (tie_bars_height_mm > 0),
  platens_guided boolean not null,
  eccentric_moment_nmm numeric(12, 0) constraint press_version_eccentric_moment check (eccentric_moment_nmm > 0),
  opening_stroke_mm numeric(8, 2) not null constraint press_version_opening_stroke check (opening_stroke_mm > 0),
  screw_diameter_mm numeric(6, 2) not null constraint press_version_screw_diameter check (screw_diameter_mm > 0),
  shot_cm3 numeric(8, 2) not null constraint press_version_shot check (shot_cm3 > 0),
  max_pressure_mpa numeric(6, 1) not null constraint press_version_max_pressure check (max_pressure_mpa > 0),
  max_flow_cm3_per_s numeric(8, 2) not null constraint press_version_max_flow check (max_flow_cm3_per_s > 0),
  barrel_shots numeric(5, 2) not null constraint press_version_barrel_shots check (barrel_shots > 0),
  nozzle_orifice_mm numeric(5, 2) not null constraint press_version_nozzle_orifice check (nozzle_orifice_mm > 0),
  created_at timestamptz(3) not null default now(),
  primary key (press_id, version),
  constraint press_version_clamp_range check (0 <= clamp_min_kn and clamp_min_kn < clamp_max_kn)
);
create trigger press_version_append_only before update or delete on press_version
  for each row execute function refuse_change();

create table bolster (
  id uuid primary key default gen_random_uuid(),
  press_id uuid not null constraint bolster_press references press (id),
  name text not null constraint bolster_name_length check (length(btrim(name)) between 1 and 60),
  mounted boolean not null default false,
  created_at timestamptz(3) not null default now()
);
create unique index bolster_one_mounted on bolster (press_id) where mounted;

create table bolster_version (
  bolster_id uuid not null constraint bolster_version_bolster references bolster (id),
  version integer not null constraint bolster_version_positive check (version > 0),
  face_width_mm numeric(8, 2) not null constraint bolster_version_face_width check (face_width_mm > 0),
  face_height_mm numeric(8, 2) not null constraint bolster_version_face_height check (face_height_mm > 0),
  face_centre_x_mm numeric(8, 2) not null,
  face_centre_y_mm numeric(8, 2) not null,
  face_material text not null,
  allowable_face_pressure_mpa numeric(6, 1) not null constraint bolster_version_face_pressure check (allowable_face_pressure_mpa > 0),
  -- [{xMm, yMm, thread, depthMm, positionMm}]
  holes jsonb not null constraint bolster_version_holes_array check (jsonb_typeof(holes) = 'array'),
  -- [[{x, y}, ...], ...] mm
  face_openings jsonb not null default '[]' constraint bolster_version_openings_array check (jsonb_typeof(face_openings) = 'array'),
  sprue_length_mm numeric(6, 2) not null constraint bolster_version_sprue_length check (sprue_length_mm > 0),
  sprue_nozzle_end_mm numeric(6, 2) not null constraint bolster_version_sprue_nozzle_end check (sprue_nozzle_end_mm > 0),
  sprue_parting_face_mm numeric(6, 2) not null,
  minimum_daylight_mm numeric(6, 2) not null constraint bolster_version_daylight check (minimum_daylight_mm >= 0),
  largest_stack_mm numeric(6, 2) not null,
  created_at timestamptz(3) not null default now(),
  primary key (bolster_id, version),
  constraint bolster_version_stack_range check (minimum_daylight_mm < largest_stack_mm),
  constraint bolster_version_sprue_opens check (sprue_nozzle_end_mm <= sprue_parting_face_mm)
);
create trigger bolster_version_append_only before update or delete on bolster_version
  for each row execute function refuse_change();

create table equipment (
  id uuid primary key default gen_random_uuid(),
  kind text not null constraint equipment_kind check (kind in ('press', 'oven-tray', 'granulator')),
  name text not null constraint equipment_name_length check (length(btrim(name)) between 1 and 60),
  press_id uuid constraint equipment_press references press (id),
  created_at timestamptz(3) not null default now(),
  constraint equipment_press_only check ((kind = 'press') = (press_id is not null))
);
create unique index equipment_press_once on equipment (press_id);

create table plate (
  id uuid primary key default gen_random_uuid(),
  owner_id uuid not null constraint plate_owner references member (id),
  name text not null constraint plate_name_length check (length(btrim(name)) between 1 and 80),
  sharing text not null default 'nobody' constraint plate_sharing check (sharing in ('nobody', 'see', 'run')),
  latest_revision integer not null default 1 constraint plate_latest_revision_positive check (latest_revision > 0),
  created_at timestamptz(3) not null
);
create index plate_of_owner on plate (owner_id, created_at, id);

create table plate_revision (
  plate_id uuid not null constraint plate_revision_plate references plate (id),
  revision integer not null constraint plate_revision_positive check (revision > 0),
  dxf bytea not null constraint plate_revision_dxf_size check (length(dxf) between 1 and 8388608),
  dxf_sha256 text not null constraint plate_revision_dxf_sha256 check (dxf_sha256 ~ '^[0-9a-f]{64}$'),
  file_name text not null constraint plate_revision_file_name_length check (length(file_name) between 1 and 200),
  -- PlateFacts, as given with the drawing
  facts jsonb not null constraint plate_revision_facts_object check (jsonb_typeof(facts) = 'object'),
  created_by uuid not null constraint plate_revision_created_by references member (id),
  created_at timestamptz(3) not null,
  primary key (plate_id, revision)
);
create trigger plate_revision_append_only before update or delete on plate_revision
  for each row execute function refuse_change();

-- Revisions count up by one, and the plate says which is the latest.
create function plate_revision_follows() returns trigger language plpgsql as $$
declare latest integer;
begin
  select coalesce(max(revision), 0) into latest from plate_revision
    where plate_id = new.plate_id and revision <> new.revision;
  if new.revision <> latest + 1 then
    raise exception 'revision % does not follow revision %', new.revision, latest
      using errcode = 'PS002', constraint = 'plate_revision_follows';
  end if;
  update plate set latest_revision = new.revision where id = new.plate_id;
  return null;
end $$;
create trigger plate_revision_follows after insert on plate_revision
  for each row execute function plate_revision_follows();

-- A report stands for all that went into it; the same again is the same row.
create table plate_report (
  id uuid primary key default gen_random_uuid(),
  plate_id uuid not null,
  revision integer not null,
  bolster_id uuid not null,
  bolster_version integer not null,
  press_id uuid not null,
  press_version integer not null,
  polymer text not null,
  shop_rule_version integer not null constraint plate_report_shop_rule references shop_rule (version),
  data_version text not null,
  engine_version text not null,
  verdict text not null constraint plate_report_verdict check (verdict in ('clear', 'caution', 'stop', 'unknown')),
  report jsonb not null constraint plate_report_object check (jsonb_typeof(report) = 'object'),
  created_at timestamptz(3) not null,
  constraint plate_report_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision),
  constraint plate_report_bolster foreign key (bolster_id, bolster_version) references bolster_version (bolster_id, version),
  constraint plate_report_press foreign key (press_id, press_version) references press_version (press_id, version),
  constraint plate_report_verdict_told check (report ->> 'verdict' = verdict),
  constraint plate_report_once unique (plate_id, revision, bolster_id, bolster_version, press_id, press_version,
    polymer, shop_rule_version, data_version, engine_version)
);
create trigger plate_report_append_only before update or delete on plate_report
  for each row execute function refuse_change();

create table booking (
  id uuid primary key default gen_random_uuid(),
  member_id uuid not null constraint booking_member references member (id),
  press_id uuid not null constraint booking_press references press (id),
  plate_id uuid not null,
  revision integer not null,
  report_id uuid not null constraint booking_report references plate_report (id),
  polymer text not null,
  booking_kind text not null default 'production' constraint booking_kind check (booking_kind in ('trial', 'production')),
  shots integer constraint booking_shots_positive check (shots > 0),
  starts_at timestamptz(3) not null,
  ends_at timestamptz(3) not null,
  status text not null default 'booked' constraint booking_status check (status in ('booked', 'needs-attention', 'cancelled')),
  cancelled_at timestamptz(3),
  cancelled_by uuid constraint booking_cancelled_by references member (id),
  cancel_reason text constraint booking_cancel_reason_length check (length(cancel_reason) <= 500),
  created_at timestamptz(3) not null,
  constraint booking_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision),
  constraint booking_order check (starts_at < ends_at),
  constraint booking_cancelled_told check ((status = 'cancelled') = (cancelled_at is not null and cancelled_by is not null))
);
create index booking_of_member on booking (member_id, starts_at, id);
create index booking_of_press on booking (press_id, starts_at, id);

-- A booking stands on a report of its own plate, revision and resin that has no stop.
create function booking_report_fits() returns trigger language plpgsql as $$
begin
  if not exists (
    select from plate_report r
    where r.id = new.report_id and r.plate_id = new.plate_id and r.revision = new.revision
      and r.polymer = new.polymer and r.press_id = new.press_id and r.verdict <> 'stop'
  ) then
    raise exception 'the report is of another plate, revision, resin or press, or has a stop'
      using errcode = 'PS003', constraint = 'booking_report_fits';
  end if;
  return new;
end $$;
create trigger booking_report_fits before insert or update of report_id, plate_id, revision, polymer, press_id on booking
  for each row execute function booking_report_fits();

-- One piece of equipment for one span: bookings, closures and times out of service alike.
create table reservation (
  id uuid primary key default gen_random_uuid(),
  equipment_id uuid not null constraint reservation_equipment references equipment (id),
  starts_at timestamptz(3) not null,
  ends_at timestamptz(3) not null,
  purpose text not null constraint reservation_purpose check (purpose in ('booking', 'closure', 'out-of-service')),
  booking_id uuid constraint reservation_booking references booking (id) deferrable initially deferred,
  note text constraint reservation_note_length check (length(note) <= 200),
  released_at timestamptz(3),
  created_at timestamptz(3) not null default now(),
  constraint reservation_order check (starts_at < ends_at),
  constraint reservation_purpose_told check ((purpose = 'booking') = (booking_id is not null)),
  constraint reservation_no_overlap exclude using gist
    (equipment_id with =, tstzrange(starts_at, ends_at, '[)') with &&) where (released_at is null)
);
create index reservation_of_booking on reservation (booking_id);
create index reservation_of_equipment on reservation (equipment_id, starts_at) where released_at is null;

-- At commit, a booking that stands holds the press for exactly its span, and a cancelled one holds nothing.
create function booking_holds_press() returns trigger language plpgsql as $$
declare b booking;
begin
  select * into b from booking
    where id = (case when tg_table_name = 'booking' then (to_jsonb(new) ->> 'id') else (to_jsonb(new) ->> 'booking_id') end)::uuid;
  if not found then return null; end if;
  if b.status = 'cancelled' then
    if exists (select from reservation where booking_id = b.id and released_at is null) then
      raise exception 'a cancelled booking still holds equipment'
        using errcode = 'PS004', constraint = 'booking_holds_press';
    end if;
  elsif not exists (
    select from reservation r join equipment e on e.id = r.equipment_id
    where r.booking_id = b.id and r.released_at is null and e.press_id = b.press_id
      and r.starts_at = b.starts_at and r.ends_at = b.ends_at
  ) then
    raise exception 'a booking does not hold the press for its span'
      using errcode = 'PS004', constraint = 'booking_holds_press';
  end if;
  return null;
end $$;
create constraint trigger booking_holds_press after insert or update on booking
  deferrable initially deferred for each row execute function booking_holds_press();
create constraint trigger reservation_holds_press after insert or update on reservation
  deferrable initially deferred for each row when (new.booking_id is not null) execute function booking_holds_press();

-- Bookings and reservations are cancelled and released, never deleted.
create trigger booking_kept before delete on booking for each row execute function refuse_change();
create trigger reservation_kept before delete on reservation for each row execute function refuse_change();

create table audit_entry (
  id bigint generated always as identity primary key,
  at timestamptz(3) not null,
  actor_id uuid constraint audit_entry_actor references member (id),
  action text not null constraint audit_entry_action_length check (length(action) between 1 and 60),
  subject_kind text not null,
  subject_id text not null,
  details jsonb not null default '{}' constraint audit_entry_details_object check (jsonb_typeof(details) = 'object')
);
create index audit_entry_of_subject on audit_entry (subject_kind, subject_id, id);
create index audit_entry_of_actor on audit_entry (actor_id, id);
create trigger audit_entry_append_only before update or delete on audit_entry
  for each row execute function refuse_change();
create trigger audit_entry_no_truncate before truncate on audit_entry
  for each statement execute function refuse_change();
