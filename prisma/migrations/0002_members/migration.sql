-- Members come by invitation, are suspended, change their role and leave: one-time links, suspensions with their
-- reasons, and what must hold of a member whoever writes.

alter table member add column left_at timestamptz(3);

-- Of a member who left only the row stays, for the trail to point at.
alter table member add constraint member_left_forgotten check (
  (state = 'left') = (left_at is not null) and (state <> 'left' or (email is null and password_hash is null)));

create function member_left_stays() returns trigger language plpgsql as $$
begin
  raise exception 'a member who left stays as they are'
    using errcode = 'PS005', constraint = 'member_left_stays';
end $$;
create trigger member_left_stays before update on member
  for each row when (old.state = 'left') execute function member_left_stays();

create trigger member_kept before delete on member for each row execute function refuse_change();

-- There is always an admin who can act, once there was one. The installation's row lets one such change in at a
-- time: two admins who step down at once would each still see the other.
create function member_last_admin() returns trigger language plpgsql as $$
begin
  update installation set demo = demo;
  if not exists (select from member where role = 'admin' and state = 'active') then
    raise exception 'no admin would be left' using errcode = 'PS006', constraint = 'member_last_admin';
  end if;
  return null;
end $$;
create trigger member_last_admin after update of role, state on member for each row
  when (old.role = 'admin' and old.state = 'active' and not (new.role = 'admin' and new.state = 'active'))
  execute function member_last_admin();

create table member_suspension (
  id uuid primary key default gen_random_uuid(),
  member_id uuid not null constraint member_suspension_member references member (id),
  suspended_at timestamptz(3) not null,
  suspended_by uuid not null constraint member_suspension_suspended_by references member (id),
  -- Words about a person: forgotten when the person leaves.
  reason text constraint member_suspension_reason_length check (length(btrim(reason)) between 1 and 500),
  ended_at timestamptz(3),
  ended_by uuid constraint member_suspension_ended_by references member (id),
  end_reason text constraint member_suspension_end_reason_length check (length(btrim(end_reason)) between 1 and 500),
  constraint member_suspension_order check (suspended_at <= ended_at),
  constraint member_suspension_end_told check (
    (ended_at is null) = (ended_by is null) and (end_reason is null or ended_at is not null))
);
create index member_suspension_of_member on member_suspension (member_id, suspended_at, id);
create unique index member_suspension_one_open on member_suspension (member_id) where ended_at is null;

-- A suspension ends once and its reasons may be forgotten; nothing else about it ever changes.
create function member_suspension_kept() returns trigger language plpgsql as $$
begin
  if (new.id, new.member_id, new.suspended_at, new.suspended_by)
      is distinct from (old.id, old.member_id, old.suspended_at, old.suspended_by)
    or (old.ended_at is not null and (new.ended_at, new.ended_by) is distinct from (old.ended_at, old.ended_by))
    or (new.reason is not null and new.reason is distinct from old.reason)
    or (old.ended_at is not null and new.end_reason is not null and new.end_reason is distinct from old.end_reason)
  then
    raise exception 'a suspension is ended once and never rewritten'
      using errcode = 'PS001', constraint = 'member_suspension_kept';
  end if;
  return new;
end $$;
create trigger member_suspension_kept before update on member_suspension
  for each row execute function member_suspension_kept();
create trigger member_suspension_never_deleted before delete on member_suspension
  for each row execute function refuse_change();

-- Links that are handed over by hand and work once. The link itself is known to who holds it; here is its hash.
create table one_time_link (
  id uuid primary key default gen_random_uuid(),
  purpose text not null constraint one_time_link_purpose check (purpose in ('invitation', 'reset')),
  token_hash text not null constraint one_time_link_token_hash_sha256 check (token_hash ~ '^[0-9a-f]{64}$'),
  handed_by uuid not null constraint one_time_link_handed_by references member (id),
  created_at timestamptz(3) not null,
  expires_at timestamptz(3) not null,
  used_at timestamptz(3),
  withdrawn_at timestamptz(3),
  -- Of a reset, whose password it is about; of an invitation, who came of it.
  member_id uuid constraint one_time_link_member references member (id),
  -- Of an invitation, while it is open: whom it is for.
  email text constraint one_time_link_email_shape check (email = lower(email) and email like '_%@_%' and length(email) <= 254),
  display_name text constraint one_time_link_display_name_length check (length(btrim(display_name)) between 1 and 60),
  role text constraint one_time_link_role check (role in ('member', 'steward', 'admin')),
  constraint one_time_link_order check (created_at < expires_at),
  constraint one_time_link_ends_once check (used_at is null or withdrawn_at is null),
  constraint one_time_link_used_in_time check (used_at < expires_at),
  constraint one_time_link_told check (
    case when purpose = 'reset' then member_id is not null and num_nonnulls(email, display_name, role) = 0
      when used_at is not null then member_id is not null and num_nonnulls(email, display_name) = 0
      when withdrawn_at is not null then member_id is null and num_nonnulls(email, display_name) = 0
      else member_id is null and num_nulls(email, display_name, role) = 0 end)
);
create unique index one_time_link_token_once on one_time_link (token_hash);
create unique index one_time_link_one_invitation on one_time_link (email) where purpose = 'invitation';
create unique index one_time_link_one_reset on one_time_link (member_id)
  where purpose = 'reset' and used_at is null and withdrawn_at is null;
create index one_time_link_open on one_time_link (created_at, id) where used_at is null and withdrawn_at is null;

-- What is spent stays spent.
create function one_time_link_spent() returns trigger language plpgsql as $$
begin
  raise exception 'a link that was used or withdrawn is never changed'
    using errcode = 'PS001', constraint = 'one_time_link_spent';
end $$;
create trigger one_time_link_spent before update on one_time_link
  for each row when (old.used_at is not null or old.withdrawn_at is not null) execute function one_time_link_spent();
