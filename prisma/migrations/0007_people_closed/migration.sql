-- What a member leaves behind when they go, and a way back for a house in which nobody stewards any more.

-- Of a member who left, what nobody will read is deleted, and words about them in what others have still to read are
-- taken out; nothing else of a notice changes.
create or replace function notice_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' then
    if old.read_at is not null or exists (select from member where id = old.member_id and state = 'left') then
      return old;
    end if;
  elsif old.read_at is null and to_jsonb(new) - 'read_at' = to_jsonb(old) - 'read_at' then
    return new;
  elsif to_jsonb(new) - 'figures' = to_jsonb(old) - 'figures' and new.figures = old.figures - 'reason'
    and exists (select from member where id = old.about_id and state = 'left') then
    return new;
  end if;
  raise exception 'a notice is kept as it is until it has been read'
    using errcode = 'PS005', constraint = 'notice_kept';
end $$;

-- That something was done stays known for as long as it is kept; an answer that named who left does not.
alter table idempotency_key alter column reply drop not null;

-- When nobody's sign-off for stewarding stands, an admin declares it anew, without a witness and marked as such.
alter table sign_off add column anew boolean not null default false;
alter table sign_off add constraint sign_off_anew_for_stewarding check (not anew or (founding and competence = 'stewarding'));

create or replace function sign_off_alone() returns trigger language plpgsql as $$
begin
  perform from member where id = new.member_id for no key update;
  if exists (
    select from sign_off s where s.member_id = new.member_id and s.competence = new.competence
      and s.valid_until > new.signed_at and not exists (select from sign_off_end e where e.sign_off_id = s.id)
  ) then
    raise exception 'a sign-off for % already stands', new.competence
      using errcode = 'PS005', constraint = 'sign_off_one_standing';
  end if;
  if new.founding then
    perform pg_advisory_xact_lock(hashtextextended('platenshare founding declaration', 0));
    if not new.anew and exists (
      select from sign_off s where s.founding and not s.anew and s.member_id <> new.member_id
    ) then
      raise exception 'another member has made the founding declaration'
        using errcode = 'PS005', constraint = 'sign_off_one_founder';
    end if;
  end if;
  return new;
end $$;

create or replace function sign_off_founding_once() returns trigger language plpgsql as $$
begin
  -- `sign_off_alone` has taken the lock under which one declaration follows another.
  if new.anew then
    if not exists (select from member where id = new.member_id and role = 'admin' and state = 'active')
      or exists (
        select from sign_off s join member m on m.id = s.member_id
        where s.competence = 'stewarding' and m.state = 'active' and s.valid_until > new.signed_at
          and not exists (select from sign_off_end e where e.sign_off_id = s.id)
      )
    then
      raise exception 'stewarding is declared anew by an admin, while no sign-off for it stands'
        using errcode = 'PS005', constraint = 'sign_off_anew_only_without_steward';
    end if;
  elsif exists (
    select from sign_off s
    where s.competence = 'stewarding'
      and (not s.founding or s.signed_at <> new.signed_at or new.competence = 'stewarding')
  ) or exists (select from sign_off s join sign_off_end e on e.sign_off_id = s.id where s.founding) then
    raise exception 'the founding declaration is over'
      using errcode = 'PS005', constraint = 'sign_off_founding_once';
  end if;
  return new;
end $$;
