-- The press as it is kept: further facts of press and bolster, with who gave them and why; which bolster went in
-- when; times out of service; inspections; and the facing plates and packers on the rack.

-- What heat and settings need; null is not known. Who made a version, and why: the first came with the house.
alter table press_version
  add column intensification numeric(6, 3) constraint press_version_intensification check (intensification > 0),
  add column platen_thickness_mm numeric(8, 2) constraint press_version_platen_thickness check (platen_thickness_mm > 0),
  add column dry_cycle_s numeric(6, 1) constraint press_version_dry_cycle check (dry_cycle_s > 0),
  add column chiller_flow_l_per_min numeric(6, 1) constraint press_version_chiller_flow check (chiller_flow_l_per_min > 0),
  add column chiller_water_c numeric(5, 1) constraint press_version_chiller_water check (chiller_water_c between 0 and 95),
  add column made_by uuid constraint press_version_made_by references member (id),
  add column why text constraint press_version_why_length check (length(btrim(why)) between 1 and 200),
  add constraint press_version_chiller_whole check ((chiller_flow_l_per_min is null) = (chiller_water_c is null));

alter table bolster_version
  add column half_moving_mm numeric(8, 2) constraint bolster_version_half_moving check (half_moving_mm > 0),
  add column half_fixed_mm numeric(8, 2) constraint bolster_version_half_fixed check (half_fixed_mm > 0),
  add column half_material text,
  add column made_by uuid constraint bolster_version_made_by references member (id),
  add column why text constraint bolster_version_why_length check (length(btrim(why)) between 1 and 200),
  add constraint bolster_version_halves_whole check ((half_moving_mm is null) = (half_fixed_mm is null));

-- Versions count up by one.
create function version_follows() returns trigger language plpgsql as $$
declare latest integer;
begin
  if tg_table_name = 'bolster_version' then
    select coalesce(max(version), 0) into latest from bolster_version where bolster_id = new.bolster_id;
  else
    select coalesce(max(version), 0) into latest from press_version where press_id = new.press_id;
  end if;
  -- That there is one of this number already is for the key to say.
  if new.version > latest + 1 then
    raise exception 'version % does not follow version %', new.version, latest
      using errcode = 'PS002', constraint = tg_table_name || '_follows';
  end if;
  return new;
end $$;
-- By name after the trigger that holds the bolster, or the press: those who add a version wait for each other first.
create trigger bolster_version_its_number before insert on bolster_version
  for each row execute function version_follows();
create trigger press_version_its_number before insert on press_version
  for each row execute function version_follows();

-- Which bolster went into which press, when, by whom and why.
alter table bolster add constraint bolster_of_press unique (id, press_id);
create table mounting (
  id uuid primary key default gen_random_uuid(),
  press_id uuid not null,
  bolster_id uuid not null,
  why text not null constraint mounting_why_length check (length(btrim(why)) between 1 and 200),
  mounted_by uuid not null constraint mounting_mounted_by references member (id),
  mounted_at timestamptz(3) not null,
  constraint mounting_bolster foreign key (bolster_id, press_id) references bolster (id, press_id)
);
create index mounting_of_press on mounting (press_id, mounted_at, id);
create trigger mounting_append_only before update or delete on mounting
  for each row execute function refuse_change();

-- A time in which a piece of equipment is not to be used. It holds by reservations what nobody else has, and takes
-- over what is given back: a booking that stands in it keeps its time until it is cancelled or moved.
create table outage (
  id uuid primary key default gen_random_uuid(),
  equipment_id uuid not null constraint outage_equipment references equipment (id),
  starts_at timestamptz(3) not null,
  ends_at timestamptz(3) not null,
  reason text not null constraint outage_reason_length check (length(btrim(reason)) between 1 and 200),
  made_by uuid not null constraint outage_made_by references member (id),
  created_at timestamptz(3) not null,
  ended_at timestamptz(3),
  ended_by uuid constraint outage_ended_by references member (id),
  constraint outage_order check (starts_at < ends_at),
  constraint outage_end_told check ((ended_at is null) = (ended_by is null)),
  constraint outage_ended_after_made check (created_at <= ended_at),
  constraint outage_no_overlap exclude using gist
    (equipment_id with =, tstzrange(starts_at, ends_at, '[)') with &&) where (ended_at is null)
);
create index outage_of_equipment on outage (equipment_id, starts_at) where ended_at is null;

create function outage_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'UPDATE' and old.ended_at is null
    and to_jsonb(new) - 'ended_at' - 'ended_by' = to_jsonb(old) - 'ended_at' - 'ended_by' then
    return new;
  end if;
  raise exception 'a time out of service is ended, never changed or deleted'
    using errcode = 'PS005', constraint = 'outage_kept';
end $$;
create trigger outage_kept before update or delete on outage for each row execute function outage_kept();

alter table reservation add column outage_id uuid constraint reservation_outage references outage (id);
alter table reservation add constraint reservation_outage_told check (outage_id is null or purpose = 'out-of-service');
create index reservation_of_outage on reservation (outage_id);

-- What of a span nobody holds on a piece of equipment.
create function left_open(equipment uuid, span tstzrange) returns tstzmultirange language sql stable as $$
  select tstzmultirange(span) - coalesce(range_agg(tstzrange(r.starts_at, r.ends_at, '[)')), '{}'::tstzmultirange)
  from reservation r
  where r.equipment_id = equipment and r.released_at is null and tstzrange(r.starts_at, r.ends_at, '[)') && span
$$;

-- Times out of service first, closures after them: each takes what is open of its own span.
create function hold_what_is_left(equipment uuid, span tstzrange, at timestamptz) returns void language plpgsql as $$
begin
  insert into reservation (equipment_id, starts_at, ends_at, purpose, outage_id, note, created_at)
    select equipment, lower(part), upper(part), 'out-of-service', o.id, o.reason, at
    from outage o cross join lateral unnest(left_open(equipment, tstzrange(o.starts_at, o.ends_at, '[)'))) as part
    where o.equipment_id = equipment and o.ended_at is null and tstzrange(o.starts_at, o.ends_at, '[)') && span;
  insert into reservation (equipment_id, starts_at, ends_at, purpose, closure_id, note, created_at)
    select equipment, lower(part), upper(part), 'closure', c.id, c.note, at
    from closure c cross join lateral unnest(left_open(equipment, tstzrange(c.starts_at, c.ends_at, '[)'))) as part
    where c.lifted_at is null and tstzrange(c.starts_at, c.ends_at, '[)') && span;
end $$;

create function outage_holds() returns trigger language plpgsql as $$
begin
  perform hold_what_is_left(new.equipment_id, tstzrange(new.starts_at, new.ends_at, '[)'), new.created_at);
  return null;
end $$;
create trigger outage_holds after insert on outage for each row execute function outage_holds();

-- Ended, it gives back what it holds.
create function outage_gives_back() returns trigger language plpgsql as $$
begin
  update reservation set released_at = new.ended_at where outage_id = new.id and released_at is null;
  return null;
end $$;
create trigger outage_gives_back after update of ended_at on outage
  for each row when (old.ended_at is null and new.ended_at is not null) execute function outage_gives_back();

-- What is given back, or left by moving, goes to the time out of service or the closure that it lies in.
create function reservation_given_back() returns trigger language plpgsql as $$
begin
  perform hold_what_is_left(old.equipment_id, tstzrange(old.starts_at, old.ends_at, '[)'),
    coalesce(new.released_at, now()));
  return null;
end $$;
create trigger reservation_given_back after update of released_at, starts_at, ends_at on reservation
  for each row when (old.released_at is null and (new.released_at is not null
    or old.starts_at <> new.starts_at or old.ends_at <> new.ends_at)) execute function reservation_given_back();

-- Inspections of a press, as they were recorded; the last record says when the next is due.
create table inspection (
  id uuid primary key default gen_random_uuid(),
  press_id uuid not null constraint inspection_press references press (id),
  inspected_on date not null,
  inspected_by text not null constraint inspection_inspected_by_length check (length(btrim(inspected_by)) between 1 and 100),
  interval_months integer not null constraint inspection_interval check (interval_months between 1 and 60),
  -- The first instant at which it is overdue, on the shop's own clock when it was recorded.
  due_at timestamptz(3) not null,
  note text not null constraint inspection_note_length check (length(btrim(note)) between 1 and 500),
  recorded_by uuid not null constraint inspection_recorded_by references member (id),
  recorded_at timestamptz(3) not null,
  constraint inspection_due_after check (due_at > inspected_on),
  constraint inspection_not_ahead check (inspected_on <= recorded_at + interval '1 day')
);
create index inspection_of_press on inspection (press_id, recorded_at, id);
create trigger inspection_append_only before update or delete on inspection
  for each row execute function refuse_change();

-- Facing plates and packers on the rack. Metal that was ground thinner is another part: a revision names this one.
create table stack_part (
  id uuid primary key default gen_random_uuid(),
  kind text not null constraint stack_part_kind check (kind in ('facing', 'packer')),
  name text not null constraint stack_part_name_length check (length(btrim(name)) between 1 and 60),
  thickness_mm numeric(6, 3) not null constraint stack_part_thickness check (thickness_mm > 0),
  width_mm numeric(8, 2) not null constraint stack_part_width check (width_mm > 0),
  height_mm numeric(8, 2) not null constraint stack_part_height check (height_mm > 0),
  material text not null,
  parallel_within_mm numeric(6, 3) constraint stack_part_parallel check (parallel_within_mm >= 0),
  place text not null constraint stack_part_place_length check (length(place) <= 60),
  note text not null constraint stack_part_note_length check (length(note) <= 200),
  state text not null default 'in-service' constraint stack_part_state check (state in ('in-service', 'retired')),
  -- How often it was edited: who edits an older state than this one is told.
  edition integer not null default 1 constraint stack_part_edition_positive check (edition > 0),
  made_by uuid constraint stack_part_made_by references member (id),
  created_at timestamptz(3) not null
);
create unique index stack_part_name_once on stack_part (lower(name)) where state = 'in-service';

create function stack_part_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'UPDATE' and new.edition = old.edition + 1
    and to_jsonb(new) - array['name', 'parallel_within_mm', 'place', 'note', 'state', 'edition']
      = to_jsonb(old) - array['name', 'parallel_within_mm', 'place', 'note', 'state', 'edition'] then
    return new;
  end if;
  raise exception 'the metal of a facing plate or packer is never changed, nor is it deleted: it is retired'
    using errcode = 'PS005', constraint = 'stack_part_kept';
end $$;
create trigger stack_part_kept before update or delete on stack_part
  for each row execute function stack_part_kept();
