-- Plates as things on a rack: where they lie and how they are, whether they are still used; a note with each
-- revision, the stock it is clamped with; photographs of plates and bolsters.

alter table plate
  add column place text constraint plate_place_length check (length(btrim(place)) between 1 and 60),
  add column condition text not null default 'not-cut'
    constraint plate_condition check (condition in ('not-cut', 'good', 'worn', 'damaged')),
  add column condition_note text constraint plate_condition_note_length check (length(btrim(condition_note)) between 1 and 200),
  add column retired_at timestamptz(3),
  add column retired_by uuid constraint plate_retired_by references member (id),
  add constraint plate_retired_told check ((retired_at is null) = (retired_by is null));

-- Plates are retired, never deleted.
create trigger plate_kept before delete on plate for each row execute function refuse_change();
create trigger plate_no_truncate before truncate on plate for each statement execute function refuse_change();

alter table plate_revision
  add column note text constraint plate_revision_note_length check (length(btrim(note)) between 1 and 1000);
create index plate_revision_same_drawing on plate_revision (dxf_sha256);

-- A retired plate gets no further revision: it is taken up again first.
create function plate_revision_not_retired() returns trigger language plpgsql as $$
begin
  if exists (select from plate where id = new.plate_id and retired_at is not null) then
    raise exception 'plate % is retired', new.plate_id
      using errcode = 'PS002', constraint = 'plate_revision_not_retired';
  end if;
  return new;
end $$;
create trigger plate_revision_not_retired before insert on plate_revision
  for each row execute function plate_revision_not_retired();

-- A facing plate and packers named from the rack are there, in service, and as thick as the revision says.
create function plate_revision_parts() returns trigger language plpgsql as $$
declare
  facing uuid := (new.facts ->> 'facingPartId')::uuid;
  packers uuid[] := array(select jsonb_array_elements_text(coalesce(new.facts -> 'packerPartIds', '[]'))::uuid);
  thick numeric;
begin
  if facing is not null then
    select thickness_mm into thick from stack_part where id = facing and kind = 'facing' and state = 'in-service' for share;
    if thick is distinct from (new.facts ->> 'facingThicknessMm')::numeric then
      raise exception 'the facing plate is not there, not in service or not as thick'
        using errcode = 'PS003', constraint = 'plate_revision_parts';
    end if;
  end if;
  if cardinality(packers) > 0 then
    perform from stack_part where id = any(packers) order by id for share;
    select sum(s.thickness_mm) into thick from unnest(packers) as named(id)
      join stack_part s on s.id = named.id and s.kind = 'packer' and s.state = 'in-service'
      having count(*) = cardinality(packers) and count(distinct s.id) = cardinality(packers);
    if thick is distinct from (new.facts ->> 'packerThicknessMm')::numeric then
      raise exception 'a packer is not there, not in service, named twice or not as thick'
        using errcode = 'PS003', constraint = 'plate_revision_parts';
    end if;
  end if;
  return new;
end $$;
create trigger plate_revision_parts before insert on plate_revision
  for each row execute function plate_revision_parts();

-- A photograph of a plate's revision, or of a bolster. What is kept was drawn anew from what came, without anything
-- the camera wrote beside the picture. One that is removed leaves its row, so that what refers to it still stands.
create table photograph (
  id uuid primary key default gen_random_uuid(),
  plate_id uuid,
  revision integer,
  bolster_id uuid constraint photograph_bolster references bolster (id),
  caption text not null default '' constraint photograph_caption_length check (length(caption) <= 200),
  whole bytea constraint photograph_whole_jpeg check (substring(whole from 1 for 3) = '\xffd8ff' and length(whole) <= 4194304),
  thumb bytea constraint photograph_thumb_jpeg check (substring(thumb from 1 for 3) = '\xffd8ff' and length(thumb) <= 262144),
  width_px integer not null constraint photograph_width check (width_px between 1 and 1600),
  height_px integer not null constraint photograph_height check (height_px between 1 and 1600),
  kept_by uuid not null constraint photograph_kept_by references member (id),
  kept_at timestamptz(3) not null,
  removed_at timestamptz(3),
  removed_by uuid constraint photograph_removed_by references member (id),
  constraint photograph_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision) match full,
  constraint photograph_of_one check (num_nonnulls(plate_id, bolster_id) = 1),
  constraint photograph_removed_told check (num_nonnulls(removed_at, removed_by) in (0, 2)),
  constraint photograph_shown_until_removed check (num_nonnulls(whole, thumb) = case when removed_at is null then 2 else 0 end)
);
create index photograph_of_plate on photograph (plate_id, kept_at, id) where removed_at is null;
create index photograph_of_bolster on photograph (bolster_id, kept_at, id) where removed_at is null;

-- All that ever happens to a photograph is that it is removed, once.
create function photograph_only_removed() returns trigger language plpgsql as $$
begin
  if old.removed_at is not null or new.removed_at is null
    or (new.id, new.plate_id, new.revision, new.bolster_id, new.width_px, new.height_px, new.kept_by, new.kept_at)
      is distinct from (old.id, old.plate_id, old.revision, old.bolster_id, old.width_px, old.height_px, old.kept_by, old.kept_at)
    or new.caption <> '' then
    raise exception 'a photograph is removed, and nothing else changed'
      using errcode = 'PS001', constraint = 'photograph_only_removed';
  end if;
  return new;
end $$;
create trigger photograph_only_removed before update on photograph
  for each row execute function photograph_only_removed();
create trigger photograph_kept before delete on photograph for each row execute function refuse_change();
create trigger photograph_no_truncate before truncate on photograph for each statement execute function refuse_change();
