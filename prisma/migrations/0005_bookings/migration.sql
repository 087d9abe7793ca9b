-- A booking takes a minute at least and stands on a report of the bolster as it is in the press now.

-- What was booked for less than a minute nobody can use: it is given back.
update reservation set released_at = now()
  where released_at is null
    and booking_id in (select id from booking where status <> 'cancelled' and ends_at - starts_at < interval '1 minute');
update booking set status = 'cancelled', cancelled_at = now(), cancelled_by = member_id, cancel_reason = 'Shorter than a minute.'
  where status <> 'cancelled' and ends_at - starts_at < interval '1 minute';
-- The check below cannot be added while the checks of these changes at commit are outstanding.
set constraints all immediate;
alter table booking add constraint booking_takes_a_minute
  check (status = 'cancelled' or ends_at - starts_at >= interval '1 minute');

-- The report is of the booking's own plate, revision, resin and press, has no stop, and was made for the bolster that
-- is mounted and for the latest versions of that and of the press.
create or replace function booking_report_fits() returns trigger language plpgsql as $$
begin
  if not exists (
    select from plate_report r join bolster b on b.id = r.bolster_id
    where r.id = new.report_id and r.plate_id = new.plate_id and r.revision = new.revision
      and r.polymer = new.polymer and r.press_id = new.press_id and r.verdict <> 'stop'
      and b.press_id = new.press_id and b.mounted
      and r.bolster_version = (select max(version) from bolster_version where bolster_id = r.bolster_id)
      and r.press_version = (select max(version) from press_version where press_id = r.press_id)
  ) then
    raise exception 'the report is of another plate, revision, resin, press or bolster, of an earlier version, or has a stop'
      using errcode = 'PS003', constraint = 'booking_report_fits';
  end if;
  return new;
end $$;

-- Who books shares the rows of bolster and press; a new version waits for them, and they for it.
create function holds_bolster() returns trigger language plpgsql as $$
begin
  perform from bolster where id = new.bolster_id for no key update;
  return new;
end $$;
create trigger bolster_version_holds_bolster before insert on bolster_version
  for each row execute function holds_bolster();

create function holds_press() returns trigger language plpgsql as $$
begin
  perform from press where id = new.press_id for no key update;
  return new;
end $$;
create trigger press_version_holds_press before insert on press_version
  for each row execute function holds_press();

-- Counts of the last minutes need not outlive a crash, and nobody should wait for a disk to be counted.
alter table rate_count set unlogged;
