-- What a booking that stands has lost of all that it was made with, since when, and that it is regained.

-- Sprues and rejects are to be ground up again afterwards: its member is signed off for that, too.
alter table booking add column granulate boolean not null default false;
-- The decision of a steward that the booking stands on: for production the clearance that names its polymer.
alter table booking add column clearance_id uuid constraint booking_clearance references clearance (id);

-- One row for each thing that is missing. It says afterwards when the thing was there again; lost once more, it is a
-- row more.
create table booking_lost (
  id bigint generated always as identity primary key,
  booking_id uuid not null constraint booking_lost_booking references booking (id),
  -- A reason as the service words it, with the figures of its sentence.
  code text not null constraint booking_lost_code_shape check (code ~ '^[a-z]+(-[a-z]+)*$' and length(code) <= 60),
  figures jsonb not null default '{}' constraint booking_lost_figures_object check (jsonb_typeof(figures) = 'object'),
  lost_at timestamptz(3) not null,
  regained_at timestamptz(3),
  constraint booking_lost_order check (lost_at <= regained_at)
);
create unique index booking_lost_once on booking_lost (booking_id, code, figures) where regained_at is null;
create index booking_lost_of_booking on booking_lost (booking_id, lost_at, id);

create function booking_lost_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'UPDATE' and old.regained_at is null and new.regained_at is not null
    and to_jsonb(new) - 'regained_at' = to_jsonb(old) - 'regained_at' then
    return new;
  end if;
  raise exception 'what a booking lost is regained once and never rewritten'
    using errcode = 'PS001', constraint = 'booking_lost_kept';
end $$;
create trigger booking_lost_kept before update or delete on booking_lost
  for each row execute function booking_lost_kept();
create trigger booking_lost_no_truncate before truncate on booking_lost
  for each statement execute function refuse_change();

-- At commit, a booking needs attention exactly while something is missing.
create function booking_attention_told() returns trigger language plpgsql as $$
declare
  b booking;
  missing boolean;
begin
  select * into b from booking
    where id = (case when tg_table_name = 'booking' then (to_jsonb(new) ->> 'id') else (to_jsonb(new) ->> 'booking_id') end)::uuid;
  if not found or b.status = 'cancelled' then return null; end if;
  missing := exists (select from booking_lost where booking_id = b.id and regained_at is null);
  if missing <> (b.status = 'needs-attention') then
    raise exception 'a booking needs attention exactly while something of it is missing'
      using errcode = 'PS004', constraint = 'booking_attention_told';
  end if;
  return null;
end $$;

create constraint trigger booking_attention_told after insert or update of status on booking
  deferrable initially deferred for each row execute function booking_attention_told();
create constraint trigger booking_lost_told after insert or update on booking_lost
  deferrable initially deferred for each row execute function booking_attention_told();

-- A booking that becomes booked, or stays so on something else, stands on a clearance that stands at that moment: of
-- its plate's latest revision on the mounted bolster as it is, and for production one that names its polymer.
create function booking_clearance_fits() returns trigger language plpgsql as $$
declare
  steps constant text[] := array['fit', 'trial', 'production'];
begin
  if not exists (
    select from clearance c join plate p on p.id = c.plate_id and p.latest_revision = c.revision
      join bolster b on b.id = c.bolster_id
    where c.id = new.clearance_id and c.decision = 'clear'
      and c.plate_id = new.plate_id and c.revision = new.revision
      and b.mounted and b.press_id = new.press_id
      and c.bolster_version = (select max(version) from bolster_version where bolster_id = c.bolster_id)
      and (new.booking_kind = 'trial' or c.step = 'production'
        and exists (select from clearance_report r where r.clearance_id = c.id and r.polymer = new.polymer))
      -- Nothing later took this step back.
      and not exists (
        select from clearance l where l.plate_id = c.plate_id and l.revision = c.revision
          and l.bolster_id = c.bolster_id and l.bolster_version = c.bolster_version
          and l.place > c.place and l.decision <> 'clear'
          and array_position(steps, l.step) <= array_position(steps, c.step))
  ) then
    raise exception 'no clearance stands for this booking'
      using errcode = 'PS003', constraint = 'booking_clearance_fits';
  end if;
  return new;
end $$;
-- By name after the trigger that asks for the report.
create trigger booking_rests_on_clearance
  before insert or update of clearance_id, plate_id, revision, polymer, press_id, booking_kind, status on booking
  for each row when (new.status = 'booked') execute function booking_clearance_fits();

-- A plate that is booked or in production got a new report, because what it is checked against is another, and some of
-- its checks say worse than in the report it stood on.
create table reassessment (
  id bigint generated always as identity primary key,
  before_id uuid not null constraint reassessment_before references plate_report (id),
  after_id uuid not null constraint reassessment_after references plate_report (id),
  -- [{check, before, after}]
  worse jsonb not null constraint reassessment_worse_some
    check (jsonb_typeof(worse) = 'array' and jsonb_array_length(worse) > 0),
  found_at timestamptz(3) not null,
  constraint reassessment_once unique (before_id, after_id)
);
create index reassessment_of_after on reassessment (after_id);
create trigger reassessment_append_only before update or delete on reassessment
  for each row execute function refuse_change();
create trigger reassessment_no_truncate before truncate on reassessment
  for each statement execute function refuse_change();

create function reassessment_of_one_plate() returns trigger language plpgsql as $$
begin
  if not exists (
    select from plate_report b join plate_report a using (plate_id, revision, polymer)
    where b.id = new.before_id and a.id = new.after_id and a.id <> b.id
  ) then
    raise exception 'the reports are not two of one plate, revision and resin'
      using errcode = 'PS003', constraint = 'reassessment_of_one_plate';
  end if;
  return new;
end $$;
create trigger reassessment_of_one_plate before insert on reassessment
  for each row execute function reassessment_of_one_plate();

-- No booking that is to come has a clearance yet: each is kept, with its time, and its member and the stewards are told.
insert into booking_lost (booking_id, code, figures, lost_at)
  select id, case booking_kind when 'trial' then 'plate-not-measured' else 'plate-not-cleared' end,
    case booking_kind when 'trial' then '{}' else '{"reached": "none"}' end::jsonb, now()
  from booking where status = 'needs-attention' or status = 'booked' and ends_at > now();
insert into audit_entry (at, action, subject_kind, subject_id, details)
  select now(), 'booking-needs-attention', 'booking', b.id::text,
    jsonb_build_object('memberId', b.member_id,
      'lost', jsonb_build_array(jsonb_build_object('code', l.code, 'figures', l.figures))::text)
  from booking b join booking_lost l on l.booking_id = b.id where b.status = 'booked';
insert into notice (member_id, kind, about_id, figures, href, created_at)
  select m.id, 'booking-needs-attention', case when m.id <> b.member_id then b.member_id end,
    jsonb_build_object('startsAt', to_char(b.starts_at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
      'endsAt', to_char(b.ends_at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
      'lost', jsonb_build_array(jsonb_build_object('code', l.code, 'figures', l.figures))::text),
    '/bookings/' || b.id, now()
  from booking b join booking_lost l on l.booking_id = b.id
    join member m on m.state <> 'left' and (m.id = b.member_id or m.role in ('steward', 'admin') and m.state = 'active')
  where b.status = 'booked';
update booking set status = 'needs-attention' where status = 'booked' and ends_at > now();
