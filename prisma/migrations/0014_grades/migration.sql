-- Resin grades of the house: a polymer family as a maker's data sheet has it. What a grade is never changes; what its
-- sheet says comes in versions, which are added and never changed or deleted.

create table resin_grade (
  id uuid primary key default gen_random_uuid(),
  name text not null constraint resin_grade_name_length check (length(btrim(name)) between 1 and 80),
  -- The short symbol of its polymer family.
  polymer text not null constraint resin_grade_polymer_length check (length(btrim(polymer)) between 1 and 20),
  -- Post-consumer recyclate is a grade of its own, not regrind of another.
  post_consumer boolean not null,
  created_by uuid not null constraint resin_grade_created_by references member (id),
  created_at timestamptz(3) not null
);
create unique index resin_grade_name_once on resin_grade (lower(name));
create trigger resin_grade_append_only before update or delete on resin_grade
  for each row execute function refuse_change();
create trigger resin_grade_no_truncate before truncate on resin_grade
  for each statement execute function refuse_change();

create table resin_grade_version (
  grade_id uuid not null constraint resin_grade_version_grade references resin_grade (id),
  version integer not null constraint resin_grade_version_positive check (version > 0),
  sheet_title text not null constraint resin_grade_version_sheet_length check (length(btrim(sheet_title)) between 1 and 200),
  sheet_date date not null,
  halogenated boolean not null,
  filler_percent numeric(4, 1) not null constraint resin_grade_version_filler check (filler_percent between 0 and 70),
  melt_min_c numeric(4, 1),
  melt_max_c numeric(4, 1),
  mould_min_c numeric(4, 1),
  mould_max_c numeric(4, 1),
  ejection_c numeric(4, 1),
  drying_c numeric(4, 1) constraint resin_grade_version_drying_heat check (drying_c between 35 and 200),
  drying_hours numeric(4, 2) constraint resin_grade_version_drying_hours check (drying_hours between 0 and 48),
  density_g_per_cm3 numeric(5, 4) constraint resin_grade_version_density check (density_g_per_cm3 between 0.8 and 2.5),
  shrinkage_min_percent numeric(5, 3),
  shrinkage_max_percent numeric(5, 3),
  residence_min numeric(5, 1) constraint resin_grade_version_residence check (residence_min between 0.5 and 120),
  melt_flow_g_per_10_min numeric(7, 2) constraint resin_grade_version_flow_mass check (melt_flow_g_per_10_min > 0),
  melt_flow_cm3_per_10_min numeric(7, 2) constraint resin_grade_version_flow_volume check (melt_flow_cm3_per_10_min > 0),
  melt_flow_c numeric(4, 1) constraint resin_grade_version_flow_heat check (melt_flow_c between 120 and 420),
  melt_flow_kg numeric(5, 3) constraint resin_grade_version_flow_load check (melt_flow_kg between 0.3 and 25),
  -- Of recyclate: how it was washed, what metal and labels it may hold, which batch.
  note text not null constraint resin_grade_version_note_length check (length(note) <= 1000),
  why text constraint resin_grade_version_why_length check (length(btrim(why)) between 1 and 200),
  made_by uuid not null constraint resin_grade_version_made_by references member (id),
  made_at timestamptz(3) not null,
  primary key (grade_id, version),
  constraint resin_grade_version_says_why check (version = 1 or why is not null),
  -- Melt, mould and ejection temperatures belong together, the mould always cooler than the part at ejection.
  constraint resin_grade_version_set_whole check (
    num_nonnulls(melt_min_c, melt_max_c, mould_min_c, mould_max_c, ejection_c) in (0, 5)),
  constraint resin_grade_version_set_order check (
    mould_min_c between 5 and mould_max_c and mould_max_c < ejection_c and ejection_c < melt_min_c
    and melt_min_c <= melt_max_c and melt_max_c <= 420),
  constraint resin_grade_version_shrinkage check (
    num_nonnulls(shrinkage_min_percent, shrinkage_max_percent) in (0, 2)
    and (shrinkage_min_percent is null or shrinkage_min_percent between 0 and shrinkage_max_percent)
    and (shrinkage_max_percent is null or shrinkage_max_percent <= 6))
);
create trigger resin_grade_version_append_only before update or delete on resin_grade_version
  for each row execute function refuse_change();
create trigger resin_grade_version_no_truncate before truncate on resin_grade_version
  for each statement execute function refuse_change();

-- Versions count up by one; recyclate says what it is made of. Those who add one meet on the grade's row.
create function resin_grade_version_follows() returns trigger language plpgsql as $$
declare
  latest integer;
  is_recyclate boolean;
begin
  select post_consumer into is_recyclate from resin_grade where id = new.grade_id for no key update;
  select coalesce(max(version), 0) into latest from resin_grade_version where grade_id = new.grade_id;
  if new.version > latest + 1 then
    raise exception 'version % does not follow version %', new.version, latest
      using errcode = 'PS002', constraint = 'resin_grade_version_follows';
  end if;
  if is_recyclate and btrim(new.note) = '' then
    raise exception 'post-consumer recyclate says how it was washed and what is in it'
      using errcode = 'PS002', constraint = 'resin_grade_version_recyclate_note';
  end if;
  return new;
end $$;
create trigger resin_grade_version_follows before insert on resin_grade_version
  for each row execute function resin_grade_version_follows();
