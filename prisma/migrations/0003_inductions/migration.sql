-- Inductions: what one is signed off for, its contents in versions, how far a member has read, who waits for a
-- witness, sign-offs and how they ended.
-- A sign-off and its end are facts of their own: rows that are added and never changed or deleted. It stands from
-- its signing until it lapses or is ended.

create table competence (
  name text primary key constraint competence_name_shape
    check (name ~ '^[a-z][a-z0-9]*(-[a-z0-9]+)*$' and length(name) <= 40),
  created_by uuid constraint competence_created_by references member (id),
  created_at timestamptz(3) not null
);

-- Title, refresh interval and contents, a new version for every change. Nobody wrote what came with the service.
create table induction_version (
  competence text not null constraint induction_version_competence references competence (name),
  version integer not null constraint induction_version_positive check (version > 0),
  title text not null constraint induction_version_title_length check (length(btrim(title)) between 1 and 60),
  refresh_months integer not null constraint induction_version_refresh_positive check (refresh_months between 1 and 120),
  contents text not null constraint induction_version_contents_size check (length(contents) between 1 and 60000),
  written_by uuid constraint induction_version_written_by references member (id),
  created_at timestamptz(3) not null,
  primary key (competence, version)
);
create trigger induction_version_append_only before update or delete on induction_version
  for each row execute function refuse_change();
create trigger induction_version_no_truncate before truncate on induction_version
  for each statement execute function refuse_change();

-- The latest answers of a member to the questions of one part; a part without questions is done once it was read.
create table induction_reading (
  member_id uuid not null constraint induction_reading_member references member (id),
  competence text not null,
  version integer not null,
  part integer not null constraint induction_reading_part_positive check (part > 0),
  -- the place of the answer chosen, by the place of the question; null where none was
  answers jsonb not null constraint induction_reading_answers_array check (jsonb_typeof(answers) = 'array'),
  done boolean not null,
  read_at timestamptz(3) not null,
  primary key (member_id, competence, version, part),
  constraint induction_reading_version foreign key (competence, version)
    references induction_version (competence, version)
);

create table witness_request (
  id uuid primary key default gen_random_uuid(),
  member_id uuid not null constraint witness_request_member references member (id),
  competence text not null,
  version integer not null,
  note text constraint witness_request_note_length check (length(note) between 1 and 500),
  asked_at timestamptz(3) not null,
  closed_at timestamptz(3),
  outcome text constraint witness_request_outcome check (outcome in ('signed-off', 'withdrawn')),
  constraint witness_request_closed_told check ((closed_at is null) = (outcome is null)),
  constraint witness_request_version foreign key (competence, version)
    references induction_version (competence, version)
);
create unique index witness_request_one_open on witness_request (member_id, competence) where closed_at is null;
create index witness_request_waiting on witness_request (asked_at, id) where closed_at is null;

create table sign_off (
  id uuid primary key default gen_random_uuid(),
  member_id uuid not null constraint sign_off_member references member (id),
  competence text not null,
  version integer not null,
  signed_by uuid not null constraint sign_off_signed_by references member (id),
  -- A founding declaration has no witness; it is the only one that somebody makes for themselves.
  founding boolean not null default false,
  -- Declared by the signer; the birth date is nobody's business here.
  eighteen_or_older boolean not null constraint sign_off_eighteen_or_older check (eighteen_or_older),
  note text constraint sign_off_note_length check (length(note) between 1 and 1000),
  -- What was seen done, item by item
  witnessed jsonb not null default '[]' constraint sign_off_witnessed_array check (jsonb_typeof(witnessed) = 'array'),
  signed_at timestamptz(3) not null,
  valid_until timestamptz(3) not null,
  constraint sign_off_version foreign key (competence, version) references induction_version (competence, version),
  constraint sign_off_order check (signed_at < valid_until),
  constraint sign_off_never_oneself check (founding = (signed_by = member_id))
);
create index sign_off_of_member on sign_off (member_id, competence, signed_at, id);
create index sign_off_lapsing on sign_off (valid_until);
-- Nothing of it is ever changed, but words about a person who left are forgotten.
create function sign_off_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'UPDATE' and to_jsonb(new) - 'note' = to_jsonb(old) - 'note' and new.note is null
    and exists (select from member where id = old.member_id and state = 'left') then
    return new;
  end if;
  raise exception 'a sign-off is never changed or deleted'
    using errcode = 'PS001', constraint = 'sign_off_append_only';
end $$;
create trigger sign_off_append_only before update or delete on sign_off
  for each row execute function sign_off_kept();
create trigger sign_off_no_truncate before truncate on sign_off
  for each statement execute function refuse_change();

-- Revoked, or followed by a newer one, before it would have lapsed; once at most.
create table sign_off_end (
  sign_off_id uuid primary key constraint sign_off_end_sign_off references sign_off (id),
  kind text not null constraint sign_off_end_kind check (kind in ('revoked', 'refreshed')),
  ended_by uuid not null constraint sign_off_end_ended_by references member (id),
  reason text constraint sign_off_end_reason_length check (length(btrim(reason)) between 1 and 500),
  ended_at timestamptz(3) not null,
  constraint sign_off_end_reason_told check (kind = 'revoked' or reason is null)
);
create function sign_off_end_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'UPDATE' and to_jsonb(new) - 'reason' = to_jsonb(old) - 'reason' and new.reason is null and exists (
    select from sign_off s join member m on m.id = s.member_id where s.id = old.sign_off_id and m.state = 'left'
  ) then
    return new;
  end if;
  raise exception 'how a sign-off ended is never changed or deleted'
    using errcode = 'PS001', constraint = 'sign_off_end_append_only';
end $$;
create trigger sign_off_end_append_only before update or delete on sign_off_end
  for each row execute function sign_off_end_kept();
create trigger sign_off_end_no_truncate before truncate on sign_off_end
  for each statement execute function refuse_change();

-- One sign-off for one thing stands at a time, and only one member ever founds. Two signers at once meet on the
-- member's row, which the service holds in the same way before it looks.
create function sign_off_alone() returns trigger language plpgsql as $$
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
    if exists (select from sign_off s where s.founding and s.member_id <> new.member_id) then
      raise exception 'another member has made the founding declaration'
        using errcode = 'PS005', constraint = 'sign_off_one_founder';
    end if;
  end if;
  return new;
end $$;
-- Who revokes says why.
create function sign_off_end_says_why() returns trigger language plpgsql as $$
begin
  if new.kind = 'revoked' and new.reason is null then
    raise exception 'a revocation says why' using errcode = 'PS005', constraint = 'sign_off_end_says_why';
  end if;
  return new;
end $$;
create trigger sign_off_end_says_why before insert on sign_off_end
  for each row execute function sign_off_end_says_why();
create trigger sign_off_alone before insert on sign_off for each row execute function sign_off_alone();

-- Which reminders went out: whichever process adds the row sends it.
create table sign_off_reminder (
  sign_off_id uuid not null constraint sign_off_reminder_sign_off references sign_off (id),
  kind text not null constraint sign_off_reminder_kind check (kind in ('lapses-soon', 'lapsed')),
  sent_at timestamptz(3) not null,
  primary key (sign_off_id, kind)
);

-- A printed card leads to its member's sign-offs; a new card makes the old one worthless.
create table induction_card (
  member_id uuid primary key constraint induction_card_member references member (id),
  code text not null constraint induction_card_code_long check (code ~ '^[A-Za-z0-9_-]{22,64}$'),
  issued_at timestamptz(3) not null
);
create unique index induction_card_code_once on induction_card (code);
