-- Clearance of plates: each decision of a steward about one step (fit, trial, production) of a revision on a version
-- of a bolster, and a plate that goes back to fit because its metal was changed. Rows are added and never changed or
-- deleted; how far a plate has come is what its latest row says.

create table clearance (
  id uuid primary key default gen_random_uuid(),
  -- The order of decisions: two can share a millisecond.
  place bigint generated always as identity constraint clearance_place_once unique,
  plate_id uuid not null,
  revision integer not null,
  bolster_id uuid not null,
  bolster_version integer not null,
  step text not null constraint clearance_step check (step in ('fit', 'trial', 'production')),
  decision text not null constraint clearance_decision check (decision in ('clear', 'refuse', 'rework', 'void')),
  -- What was measured and ticked, and how it was judged; empty where nothing was.
  readings jsonb not null default '{}' constraint clearance_readings_object check (jsonb_typeof(readings) = 'object'),
  -- The run that was the trial, where its sheet was kept.
  trial_run_id uuid,
  note text constraint clearance_note_length check (length(btrim(note)) between 1 and 1000),
  decided_by uuid not null constraint clearance_decided_by references member (id),
  decided_at timestamptz(3) not null,
  constraint clearance_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision),
  constraint clearance_bolster foreign key (bolster_id, bolster_version)
    references bolster_version (bolster_id, version),
  constraint clearance_rework_is_to_fit check (decision <> 'rework' or step = 'fit'),
  constraint clearance_says_why check (decision = 'clear' or note is not null),
  constraint clearance_trial_run_only check (trial_run_id is null or step = 'trial'),
  constraint clearance_measured check (
    not (step = 'fit' and decision = 'clear') or case jsonb_typeof(readings -> 'thicknessMm')
      when 'array' then jsonb_array_length(readings -> 'thicknessMm') = 4 else false end)
);
create index clearance_of_plate on clearance (plate_id, place);
create trigger clearance_append_only before update or delete on clearance
  for each row execute function refuse_change();
create trigger clearance_no_truncate before truncate on clearance
  for each statement execute function refuse_change();

-- What a production clearance stands on: one report of each polymer, with what was accepted of it.
create table clearance_report (
  clearance_id uuid not null constraint clearance_report_clearance references clearance (id),
  polymer text not null,
  report_id uuid not null constraint clearance_report_report references plate_report (id),
  -- [{check, verdict, note}]
  cautions jsonb not null default '[]' constraint clearance_report_cautions_array check (jsonb_typeof(cautions) = 'array'),
  primary key (clearance_id, polymer)
);
create trigger clearance_report_append_only before update or delete on clearance_report
  for each row execute function refuse_change();
create trigger clearance_report_no_truncate before truncate on clearance_report
  for each statement execute function refuse_change();

-- The step that stands for a revision on a version of a bolster: its latest decision tells. One that clears has
-- reached its step, any other takes the plate back to before it. Of an older revision nothing stands.
create function clearance_reached(plate uuid, revision_asked integer, bolster uuid, version_asked integer)
returns text language sql stable as $$
  select coalesce((
    select case
      when c.decision = 'clear' then c.step
      when c.step = 'production' then 'trial'
      when c.step = 'trial' then 'fit'
      else 'none' end
    from clearance c join plate p on p.id = c.plate_id and p.latest_revision = c.revision
    where c.plate_id = plate and c.revision = revision_asked and c.bolster_id = bolster
      and c.bolster_version = version_asked
    order by c.place desc limit 1), 'none')
$$;

-- Who decides, on what, and in which order. Whoever revises the plate, or decides about it, meets here on its row.
create function clearance_rules() returns trigger language plpgsql as $$
declare
  p plate;
  reached text;
  steps constant text[] := array['none', 'fit', 'trial', 'production'];
begin
  select * into p from plate where id = new.plate_id for no key update;
  if new.decision <> 'rework' and new.decided_by = p.owner_id then
    raise exception 'nobody decides about a plate of their own'
      using errcode = 'PS005', constraint = 'clearance_never_own';
  end if;
  if new.decision <> 'rework' and exists (select from plate_revision r
    where r.plate_id = new.plate_id and r.revision = new.revision and r.created_by = new.decided_by) then
    raise exception 'nobody decides about a revision that they handed in'
      using errcode = 'PS005', constraint = 'clearance_never_own_drawing';
  end if;
  if new.revision <> p.latest_revision then
    raise exception 'revision % is not the latest, which is %', new.revision, p.latest_revision
      using errcode = 'PS002', constraint = 'clearance_latest_revision';
  end if;
  if exists (select from bolster_version v
    where v.bolster_id = new.bolster_id and v.version > new.bolster_version) then
    raise exception 'the bolster has a later version'
      using errcode = 'PS002', constraint = 'clearance_latest_bolster';
  end if;
  -- The place was drawn before the plate's row was held.
  new.place := nextval(pg_get_serial_sequence('clearance', 'place'));
  reached := clearance_reached(new.plate_id, new.revision, new.bolster_id, new.bolster_version);
  -- A further polymer, or a newer report, is cleared for production on top of what stands; no other step twice.
  if new.decision = 'clear' and array_position(steps, new.step) <> array_position(steps, reached) + 1
    and not (new.step = 'production' and reached = 'production')
    -- Nothing is refused or taken back that was not due yet: that would lift the plate up.
    or new.decision <> 'clear' and array_position(steps, new.step) > array_position(steps, reached) + 1 then
    raise exception 'step % does not follow %', new.step, reached
      using errcode = 'PS002', constraint = 'clearance_in_order';
  end if;
  return new;
end $$;
create trigger clearance_rules before insert on clearance for each row execute function clearance_rules();

-- Nor is a plate given to whoever cleared it as it is: handed away, cleared and taken back, it would be their own.
create function plate_owner_never_cleared() returns trigger language plpgsql as $$
begin
  if exists (select from clearance c where c.plate_id = new.id and c.revision = new.latest_revision
    and c.decision = 'clear' and c.decided_by = new.owner_id) then
    raise exception 'nobody owns a plate that they cleared themselves'
      using errcode = 'PS005', constraint = 'plate_owner_never_cleared';
  end if;
  return new;
end $$;
create trigger plate_owner_never_cleared before update of owner_id on plate
  for each row when (old.owner_id <> new.owner_id) execute function plate_owner_never_cleared();

-- A report is accepted by a production clearance of the very same plate, revision and bolster, and never with a stop.
create function clearance_report_fits() returns trigger language plpgsql as $$
begin
  if not exists (
    select from clearance c join plate_report r on r.plate_id = c.plate_id and r.revision = c.revision
      and r.bolster_id = c.bolster_id and r.bolster_version = c.bolster_version
    where c.id = new.clearance_id and c.step = 'production' and c.decision = 'clear'
      and r.id = new.report_id and r.polymer = new.polymer and r.verdict <> 'stop'
  ) then
    raise exception 'the report is of something else, or has a stop'
      using errcode = 'PS003', constraint = 'clearance_report_fits';
  end if;
  return new;
end $$;
create trigger clearance_report_fits before insert on clearance_report
  for each row execute function clearance_report_fits();

-- At commit, a production clearance says for which polymers it is.
create function clearance_names_polymers() returns trigger language plpgsql as $$
begin
  if not exists (select from clearance_report where clearance_id = new.id) then
    raise exception 'a production clearance is for at least one polymer'
      using errcode = 'PS004', constraint = 'clearance_names_polymers';
  end if;
  return null;
end $$;
create constraint trigger clearance_names_polymers after insert on clearance
  deferrable initially deferred for each row
  when (new.step = 'production' and new.decision = 'clear') execute function clearance_names_polymers();
