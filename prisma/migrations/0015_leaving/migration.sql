-- A name typed by hand as within call of a run may be that of a member who leaves: then their pseudonym takes its place.
create or replace function run_only_closed() returns trigger language plpgsql as $$
begin
  if to_jsonb(new) - 'within_call_name' = to_jsonb(old) - 'within_call_name'
    and exists (select from member where display_name = new.within_call_name and state = 'left') then
    return new;
  end if;
  if old.closed_at is not null or new.closed_at is null
    or to_jsonb(new) - array['closed_at', 'closed_by', 'outcome', 'outcome_note']
      <> to_jsonb(old) - array['closed_at', 'closed_by', 'outcome', 'outcome_note'] then
    raise exception 'a run is closed once, and nothing else changed'
      using errcode = 'PS001', constraint = 'run_only_closed';
  end if;
  return new;
end $$;
