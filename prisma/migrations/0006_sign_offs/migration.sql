-- Sign-offs: nobody founds a second time, and a sign-off is ended by another, after it began. Suspensions and closures
-- are kept as the rest of what happened is.

-- A house is founded once: when a steward was ever signed off, whatever became of it, nobody declares for themselves
-- any more. What is declared together is declared at one instant, stewarding among it.
create function sign_off_founding_once() returns trigger language plpgsql as $$
begin
  -- `sign_off_alone` has taken the lock under which one declaration follows another.
  if exists (
    select from sign_off s
    where s.competence = 'stewarding'
      and (not s.founding or s.signed_at <> new.signed_at or new.competence = 'stewarding')
  ) or exists (select from sign_off s join sign_off_end e on e.sign_off_id = s.id where s.founding) then
    raise exception 'the founding declaration is over'
      using errcode = 'PS005', constraint = 'sign_off_founding_once';
  end if;
  return new;
end $$;
create trigger sign_off_founding_once before insert on sign_off for each row
  when (new.founding and new.signed_by = new.member_id) execute function sign_off_founding_once();

-- A sign-off ends after it began, by somebody else.
create function sign_off_end_stands() returns trigger language plpgsql as $$
begin
  if exists (select from sign_off s where s.id = new.sign_off_id and s.signed_at > new.ended_at) then
    raise exception 'a sign-off ends after it was signed'
      using errcode = 'PS005', constraint = 'sign_off_end_order';
  end if;
  if exists (select from sign_off s where s.id = new.sign_off_id and s.member_id = new.ended_by) then
    raise exception 'nobody ends a sign-off of their own'
      using errcode = 'PS005', constraint = 'sign_off_end_never_oneself';
  end if;
  return new;
end $$;
create trigger sign_off_end_stands before insert on sign_off_end
  for each row execute function sign_off_end_stands();

create trigger member_suspension_no_truncate before truncate on member_suspension
  for each statement execute function refuse_change();

-- A closure is lifted once, and nothing else about it ever changes.
create function closure_only_lifted() returns trigger language plpgsql as $$
begin
  if old.lifted_at is null and new.lifted_at is not null
    and to_jsonb(new) - 'lifted_at' - 'lifted_by' = to_jsonb(old) - 'lifted_at' - 'lifted_by' then
    return new;
  end if;
  raise exception 'a closure is lifted once and never rewritten'
    using errcode = 'PS001', constraint = 'closure_only_lifted';
end $$;
create trigger closure_only_lifted before update on closure
  for each row execute function closure_only_lifted();
create trigger closure_no_truncate before truncate on closure
  for each statement execute function refuse_change();
