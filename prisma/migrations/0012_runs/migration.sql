-- Runs: press time that is used. A run is opened with the pre-use check ticked and another person within call, and
-- closed once. A trial is led step by step. And near misses, which anybody can tell of and stewards answer.

create table run (
  id uuid primary key default gen_random_uuid(),
  booking_id uuid not null constraint run_booking references booking (id),
  press_id uuid not null constraint run_press references press (id),
  bolster_id uuid not null,
  bolster_version integer not null,
  plate_id uuid not null,
  revision integer not null,
  kind text not null constraint run_kind check (kind in ('trial', 'production')),
  opened_by uuid not null constraint run_opened_by references member (id),
  opened_at timestamptz(3) not null,
  pre_use text[] not null constraint run_pre_use_whole
    check (pre_use @> array['guards', 'emergency-stop', 'hoses', 'no-leaks', 'area-clear']),
  -- Somebody who would come if called: a member, or a name.
  within_call_id uuid constraint run_within_call references member (id),
  within_call_name text constraint run_within_call_length check (length(btrim(within_call_name)) between 1 and 80),
  -- The steward who stands by at a trial.
  attended_by uuid constraint run_attended_by references member (id),
  -- The steps of a trial as they were estimated when it was opened.
  trial_plan jsonb constraint run_trial_plan_object check (jsonb_typeof(trial_plan) = 'object'),
  closed_at timestamptz(3),
  closed_by uuid constraint run_closed_by references member (id),
  outcome text,
  outcome_note text constraint run_outcome_note_length check (length(btrim(outcome_note)) between 1 and 1000),
  constraint run_bolster foreign key (bolster_id, bolster_version) references bolster_version (bolster_id, version),
  constraint run_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision),
  constraint run_within_call_somebody check (num_nonnulls(within_call_id, within_call_name) = 1),
  constraint run_within_call_another check (within_call_id <> opened_by),
  constraint run_trial_attended check ((kind = 'trial') = (num_nonnulls(attended_by, trial_plan) = 2)
    and (kind = 'trial') = (num_nonnulls(attended_by, trial_plan) > 0)),
  constraint run_closed_told check (num_nonnulls(closed_at, closed_by, outcome) in (0, 3)),
  constraint run_order check (opened_at <= closed_at),
  constraint run_outcome check (outcome in ('runs-well', 'needs-rework', 'stopped') and kind = 'trial'
    or outcome in ('finished', 'stopped') and kind = 'production'),
  constraint run_says_why check (outcome in ('runs-well', 'finished') or outcome_note is not null or closed_at is null)
);
-- A press does one thing at a time.
create unique index run_open_once on run (press_id) where closed_at is null;
create index run_of_booking on run (booking_id, opened_at);
create index run_of_plate on run (plate_id, opened_at);
create index run_by_time on run (opened_at, id);

-- A run is opened on a booking that has all it was made with, within its time or while the press is made ready for
-- it, by its member or a steward, who is signed off; a trial with a steward by who does not own the plate.
create function run_rules() returns trigger language plpgsql as $$
declare
  b booking;
begin
  select * into b from booking where id = new.booking_id for no key update;
  if b.status <> 'booked' then
    raise exception 'the booking is %', b.status using errcode = 'PS002', constraint = 'run_of_booked';
  end if;
  if new.opened_at < b.starts_at - interval '10 minutes' or new.opened_at >= b.ends_at then
    raise exception 'the booking is from % to %', b.starts_at, b.ends_at
      using errcode = 'PS002', constraint = 'run_within_booking';
  end if;
  if (new.press_id, new.plate_id, new.revision, new.kind) is distinct from
    (b.press_id, b.plate_id, b.revision, b.booking_kind)
    or not exists (select from bolster m where m.id = new.bolster_id and m.press_id = b.press_id and m.mounted)
    or exists (select from bolster_version v where v.bolster_id = new.bolster_id and v.version > new.bolster_version) then
    raise exception 'the run is of another press, plate, bolster or kind than its booking'
      using errcode = 'PS003', constraint = 'run_fits_booking';
  end if;
  if exists (
    select from unnest(array['press-operation', 'plate-change']) as needed
    where not exists (select from sign_off s where s.member_id = new.opened_by and s.competence = needed
      and s.signed_at <= new.opened_at and s.valid_until > new.opened_at
      and not exists (select from sign_off_end e where e.sign_off_id = s.id))
  ) then
    raise exception 'whoever opens a run is signed off for the press and for changing plates'
      using errcode = 'PS005', constraint = 'run_by_signed_off';
  end if;
  if new.attended_by = b.member_id
    or new.attended_by = (select p.owner_id from plate p where p.id = new.plate_id)
    or new.attended_by is not null and not exists (
    select from member m join sign_off s on s.member_id = m.id
    where m.id = new.attended_by and m.state = 'active' and m.role in ('steward', 'admin')
      and s.competence = 'stewarding' and s.signed_at <= new.opened_at and s.valid_until > new.opened_at
      and not exists (select from sign_off_end e where e.sign_off_id = s.id)
  ) then
    raise exception 'a trial is attended by a steward whose booking it is not'
      using errcode = 'PS005', constraint = 'run_attended_by_steward';
  end if;
  return new;
end $$;
create trigger run_rules before insert on run for each row execute function run_rules();

-- All that ever happens to a run is that it is closed, once.
create function run_only_closed() returns trigger language plpgsql as $$
begin
  if old.closed_at is not null or new.closed_at is null
    or to_jsonb(new) - array['closed_at', 'closed_by', 'outcome', 'outcome_note']
      <> to_jsonb(old) - array['closed_at', 'closed_by', 'outcome', 'outcome_note'] then
    raise exception 'a run is closed once, and nothing else changed'
      using errcode = 'PS001', constraint = 'run_only_closed';
  end if;
  return new;
end $$;
create trigger run_only_closed before update on run for each row execute function run_only_closed();
create trigger run_kept before delete on run for each row execute function refuse_change();
create trigger run_no_truncate before truncate on run for each statement execute function refuse_change();

-- A booking whose run is open stays where it is until the run is closed.
create function booking_run_open() returns trigger language plpgsql as $$
begin
  if exists (select from run where booking_id = new.id and closed_at is null) then
    raise exception 'a run of booking % is open', new.id
      using errcode = 'PS002', constraint = 'booking_run_open';
  end if;
  return new;
end $$;
create trigger booking_run_open before update on booking for each row
  when (new.status = 'cancelled' and old.status <> 'cancelled' or new.starts_at <> old.starts_at or new.ends_at <> old.ends_at)
  execute function booking_run_open();

-- Nor does another bolster go into a press that is being run.
create function mounting_run_open() returns trigger language plpgsql as $$
begin
  if exists (select from run where press_id = new.press_id and closed_at is null) then
    raise exception 'a run is open on press %', new.press_id
      using errcode = 'PS002', constraint = 'mounting_run_open';
  end if;
  return new;
end $$;
create trigger mounting_run_open before insert on mounting for each row execute function mounting_run_open();

-- What was set and seen at each step of a trial, in the order in which it was done; a step gone back to is a row more.
create table trial_step (
  id uuid primary key default gen_random_uuid(),
  -- Two can share a millisecond.
  place bigint generated always as identity constraint trial_step_place_once unique,
  run_id uuid not null constraint trial_step_run references run (id),
  step text not null constraint trial_step_name check (step ~ '^[a-z]+(-[a-z]+)*(-[0-9]+)?$' and length(step) <= 40),
  -- {screwMm, meterMm, clampKn, holdMpa, holdGaugeBar}, what was set of them
  set_as jsonb not null default '{}' constraint trial_step_set_object check (jsonb_typeof(set_as) = 'object'),
  -- Names of what was ticked as seen
  seen text[] not null default '{}' constraint trial_step_seen_few check (cardinality(seen) <= 20),
  note text constraint trial_step_note_length check (length(btrim(note)) between 1 and 1000),
  went text not null constraint trial_step_went check (went in ('on', 'again', 'back', 'stop')),
  photograph_id uuid constraint trial_step_photograph references photograph (id),
  kept_by uuid not null constraint trial_step_kept_by references member (id),
  kept_at timestamptz(3) not null,
  constraint trial_step_stop_says_why check (went <> 'stop' or note is not null or cardinality(seen) > 0)
);
create index trial_step_of_run on trial_step (run_id, place);
create trigger trial_step_append_only before update or delete on trial_step
  for each row execute function refuse_change();
create trigger trial_step_no_truncate before truncate on trial_step
  for each statement execute function refuse_change();

create function trial_step_rules() returns trigger language plpgsql as $$
declare
  r run;
begin
  select * into r from run where id = new.run_id for no key update;
  if r.kind <> 'trial' or r.closed_at is not null then
    raise exception 'steps are kept of a trial while it is open'
      using errcode = 'PS002', constraint = 'trial_step_of_open_trial';
  end if;
  if new.photograph_id is not null and not exists (select from photograph p
    where p.id = new.photograph_id and p.plate_id = r.plate_id and p.revision = r.revision) then
    raise exception 'the photograph is of another plate'
      using errcode = 'PS003', constraint = 'trial_step_own_photograph';
  end if;
  -- The place was drawn before the run's row was held.
  new.place := nextval(pg_get_serial_sequence('trial_step', 'place'));
  return new;
end $$;
create trigger trial_step_rules before insert on trial_step for each row execute function trial_step_rules();

-- The trial that a clearance names is one that was led.
alter table clearance add constraint clearance_trial_run foreign key (trial_run_id) references run (id);

-- What nearly hurt somebody, or did, as somebody tells it.
create table near_miss (
  id uuid primary key default gen_random_uuid(),
  reported_by uuid not null constraint near_miss_reported_by references member (id),
  reported_at timestamptz(3) not null,
  happened_at timestamptz(3) not null,
  place text not null constraint near_miss_place_length check (length(btrim(place)) between 1 and 100),
  what text not null constraint near_miss_what_length check (length(btrim(what)) between 1 and 2000),
  hurt text not null constraint near_miss_hurt check (hurt in ('nobody', 'first-aid', 'more')),
  constraint near_miss_order check (happened_at <= reported_at)
);
create index near_miss_by_time on near_miss (reported_at, id);
create index near_miss_of_member on near_miss (reported_by, reported_at, id);
create trigger near_miss_append_only before update or delete on near_miss
  for each row execute function refuse_change();
create trigger near_miss_no_truncate before truncate on near_miss
  for each statement execute function refuse_change();

create table near_miss_answer (
  near_miss_id uuid primary key constraint near_miss_answer_of references near_miss (id),
  answered_by uuid not null constraint near_miss_answer_by references member (id),
  answered_at timestamptz(3) not null,
  done text not null constraint near_miss_answer_done_length check (length(btrim(done)) between 1 and 2000)
);
create trigger near_miss_answer_append_only before update or delete on near_miss_answer
  for each row execute function refuse_change();
create trigger near_miss_answer_no_truncate before truncate on near_miss_answer
  for each statement execute function refuse_change();
