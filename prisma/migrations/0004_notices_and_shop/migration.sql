-- Notices to people, and what the shop rules room adds: closures, and versions of the rules that are dated ahead.

create table notice (
  id uuid primary key default gen_random_uuid(),
  member_id uuid not null constraint notice_member references member (id),
  kind text not null constraint notice_kind_length check (length(kind) between 1 and 60),
  -- Whom it is about, when it is about somebody: names are looked up, so that one who left is forgotten here too.
  about_id uuid constraint notice_about references member (id),
  figures jsonb not null default '{}' constraint notice_figures_object check (jsonb_typeof(figures) = 'object'),
  href text not null constraint notice_href_own check (href ~ '^/($|[^/\\])' and length(href) <= 300),
  created_at timestamptz(3) not null,
  read_at timestamptz(3),
  constraint notice_order check (created_at <= read_at)
);
create index notice_of_member on notice (member_id, created_at, id);
create index notice_unread on notice (member_id) where read_at is null;

-- A notice says tomorrow what it said today, is read once, and stays until it has been read.
create function notice_kept() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' then
    if old.read_at is not null then return old; end if;
  elsif old.read_at is null and to_jsonb(new) - 'read_at' = to_jsonb(old) - 'read_at' then
    return new;
  end if;
  raise exception 'a notice is kept as it is until it has been read'
    using errcode = 'PS005', constraint = 'notice_kept';
end $$;
create trigger notice_kept before update or delete on notice for each row execute function notice_kept();

-- One closure holds every piece of equipment, each by a reservation of its own.
create table closure (
  id uuid primary key default gen_random_uuid(),
  starts_at timestamptz(3) not null,
  ends_at timestamptz(3) not null,
  note text not null constraint closure_note_length check (length(btrim(note)) between 1 and 200),
  made_by uuid constraint closure_made_by references member (id),
  created_at timestamptz(3) not null,
  lifted_at timestamptz(3),
  lifted_by uuid constraint closure_lifted_by references member (id),
  constraint closure_order check (starts_at < ends_at),
  constraint closure_no_overlap exclude using gist
    (tstzrange(starts_at, ends_at, '[)') with &&) where (lifted_at is null)
);
create trigger closure_kept before delete on closure for each row execute function refuse_change();

alter table reservation add column closure_id uuid constraint reservation_closure references closure (id);
alter table reservation add constraint reservation_closure_told check (closure_id is null or purpose = 'closure');
create index reservation_of_closure on reservation (closure_id);

-- Nothing is ruled backwards; and a later version with the same date takes the place of an earlier one.
alter table shop_rule add constraint shop_rule_not_backdated check (valid_from >= created_at);
drop index shop_rule_valid_from_once;
create index shop_rule_by_date on shop_rule (valid_from, version);
