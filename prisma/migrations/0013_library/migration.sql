-- The library of plates: what is read off each drawing once, to search by size and to draw it small; and the log of
-- damage to bolsters and plates, which anybody reports and stewards close.

-- Nothing that could not be read off the drawing again: a row is replaced when it is drawn in another way.
create table plate_sketch (
  plate_id uuid not null,
  revision integer not null,
  -- Which way of drawing made it.
  drawn_by integer not null,
  -- Null where the drawing cannot be read.
  width_mm double precision,
  height_mm double precision,
  -- Of each part the longer side, shortest first.
  part_mm double precision[] not null default '{}',
  sketch jsonb constraint plate_sketch_object check (jsonb_typeof(sketch) = 'object'),
  constraint plate_sketch_whole check (num_nonnulls(width_mm, height_mm, sketch) in (0, 3)),
  primary key (plate_id, revision),
  constraint plate_sketch_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision)
);

create table damage (
  id uuid primary key default gen_random_uuid(),
  bolster_id uuid constraint damage_bolster references bolster (id),
  -- Of a bolster: which half's face.
  half text constraint damage_half check (half in ('moving', 'fixed')),
  plate_id uuid,
  revision integer,
  -- From the sprue axis, of a plate from its feed as drawn; mm, to the right and up.
  x_mm double precision not null constraint damage_x check (abs(x_mm) <= 2000),
  y_mm double precision not null constraint damage_y check (abs(y_mm) <= 2000),
  what text not null constraint damage_what_length check (length(btrim(what)) between 1 and 1000),
  photograph_id uuid constraint damage_photograph references photograph (id),
  reported_by uuid not null constraint damage_reported_by references member (id),
  reported_at timestamptz(3) not null,
  constraint damage_of_one check (num_nonnulls(bolster_id, half) in (0, 2) and num_nonnulls(plate_id, revision) in (0, 2)
    and num_nonnulls(bolster_id, plate_id) = 1),
  constraint damage_revision foreign key (plate_id, revision) references plate_revision (plate_id, revision)
);
create index damage_of_bolster on damage (bolster_id, reported_at, id);
create index damage_of_plate on damage (plate_id, reported_at, id);
create trigger damage_append_only before update or delete on damage
  for each row execute function refuse_change();
create trigger damage_no_truncate before truncate on damage
  for each statement execute function refuse_change();

create function damage_own_photograph() returns trigger language plpgsql as $$
begin
  if new.photograph_id is not null and not exists (select from photograph p where p.id = new.photograph_id
    and (p.bolster_id = new.bolster_id or p.plate_id = new.plate_id and p.revision = new.revision)) then
    raise exception 'the photograph shows something else'
      using errcode = 'PS003', constraint = 'damage_own_photograph';
  end if;
  return new;
end $$;
create trigger damage_own_photograph before insert on damage
  for each row execute function damage_own_photograph();

-- Closed once, by a steward's word of what was done.
create table damage_closing (
  damage_id uuid primary key constraint damage_closing_of references damage (id),
  closed_by uuid not null constraint damage_closing_by references member (id),
  closed_at timestamptz(3) not null,
  done text not null constraint damage_closing_done_length check (length(btrim(done)) between 1 and 1000)
);
create trigger damage_closing_append_only before update or delete on damage_closing
  for each row execute function refuse_change();
create trigger damage_closing_no_truncate before truncate on damage_closing
  for each statement execute function refuse_change();

create function damage_closing_order() returns trigger language plpgsql as $$
begin
  if new.closed_at < (select reported_at from damage where id = new.damage_id) then
    raise exception 'closed before it was reported' using errcode = 'PS003', constraint = 'damage_closing_order';
  end if;
  return new;
end $$;
create trigger damage_closing_order before insert on damage_closing
  for each row execute function damage_closing_order();
