import { CHECKS } from '../../engineering/finding.js';
import type { HouseReasonCode, Reason } from '../../reasons.js';
import { CLEARANCE_REASONS } from './clearance-reasons.js';
import { namesOfCompetences } from './competences.js';
import { DAMAGE_REASONS } from './damage.js';
import type { ReasonWords } from './drawing-reasons.js';
import { nameOfCheck } from './findings.js';
import { PASSWORD_FAULTS } from './passwords.js';
import { PRESS_REASONS } from './press-reasons.js';
import { RESIN_REASONS } from './resin-reasons.js';
import { RUN_REASONS } from './run-reasons.js';

/** `prefix` and the figure, when the figure is there; nothing otherwise. */
function given(reason: Reason, name: string, prefix: string, suffix = ''): string {
  const figure = reason.figures?.[name];
  return figure === undefined ? '' : `${prefix}${figure}${suffix}`;
}

function fieldName(reason: Reason): string {
  return reason.field ? ` “${reason.field}”` : '';
}

/** " (Bolt pattern, Daylight)": the checks by their names. */
function checkNames(reason: Reason): string {
  const checks = String(reason.figures?.checks ?? '')
    .split(', ')
    .filter(Boolean);
  const names = checks.map((check) => CHECKS.find((one) => one === check)).filter((one) => one !== undefined);
  return names.length === 0 ? '' : ` (${names.map(nameOfCheck).join(', ')})`;
}

/** ": Press operation, Plate change". */
function competenceNames(reason: Reason): string {
  const competences = String(reason.figures?.competences ?? '')
    .split(', ')
    .filter(Boolean);
  return competences.length === 0 ? '' : `: ${namesOfCompetences(competences)}`;
}

/** How far a plate has come that is not cleared for production. */
const REACHED: { readonly [reached: string]: string } = {
  none: 'nothing of it stands',
  fit: 'it is measured, and its trial is to come',
  trial: 'it is tried, and a steward has not cleared it yet',
};

/** Sentences for everything the service refuses, drawings apart. */
export const HOUSE_REASONS = {
  'body-not-understood': (reason) => ({
    message: `The request could not be understood${given(reason, 'detail', ': ')}.`,
    fix: 'Send it in the form that the API description gives for this address.',
  }),
  'field-invalid': (reason) => ({
    message: `The field${fieldName(reason)} is not as it should be${given(reason, 'detail', ': ')}.`,
    fix: 'Correct the field and send again.',
  }),
  'cursor-invalid': () => ({
    message: 'The place in the list could not be found again.',
    fix: 'Start from the first page of the list.',
  }),
  'not-signed-in': () => ({ message: 'You are not signed in.', fix: 'Sign in and try again.' }),
  'sign-in-failed': () => ({
    message: 'The e-mail address and the password do not belong together.',
    fix: 'Check both and try again; a steward can hand you a link for a new password.',
  }),
  'session-ended': () => ({ message: 'Your session has ended.', fix: 'Sign in again.' }),
  'form-not-ours': () => ({
    message: 'The form did not come from this site, or its page is too old.',
    fix: 'Load the page again and send the form from there.',
  }),
  'not-allowed': (reason) => ({
    message: `You may see this but not do it${given(reason, 'needs', ': it needs ')}.`,
    fix: 'Ask a steward or an admin.',
  }),
  'not-found': (reason) => ({
    message: `There is nothing here${given(reason, 'what', ': no ')}, or it is not yours to see.`,
    fix: 'Check the address or the id.',
  }),
  'method-not-allowed': (reason) => ({
    message: `This address does not take that method${given(reason, 'method', ' (', ')')}.`,
    fix: 'Use a method that the API description lists for this address.',
  }),
  'upload-too-large': (reason) => ({
    message: `The upload is too large${given(reason, 'limitMib', ': at most ', ' MiB')}.`,
    fix: 'Leave out of the drawing what is not part of the plate, and send again.',
  }),
  'media-type-unsupported': (reason) => ({
    message: `The body is in a form that is not read here${given(reason, 'mediaType', ' (', ')')}.`,
    fix: 'Send JSON, or the form fields as the API description says.',
  }),
  'too-many-requests': (reason) => ({
    message: 'There have been too many requests in a short time.',
    fix: `Wait${given(reason, 'retryAfterSeconds', ' ', ' seconds') || ' a little'} and try again.`,
  }),
  'idempotency-key-reused': () => ({
    message: 'The Idempotency-Key was used before with a different request.',
    fix: 'Use a new key for a new request; repeat a key only with the very same body.',
  }),
  'answer-forgotten': () => ({
    message: 'This was done already; what was answered named somebody who has left, and is forgotten.',
    fix: 'Look at what is there now. To do it once more, use a new key.',
  }),
  'polymer-unknown': (reason) => ({
    message: `The polymer${given(reason, 'polymer', ' “', '”')} is not in the table.`,
    fix: `Use one of the polymer symbols${given(reason, 'known', ': ') || ', for instance PP, HDPE or ABS'}.`,
  }),
  'screw-unknown': (reason) => ({
    message: `The screw size${given(reason, 'size', ' “', '”')} is not in the table.`,
    fix: `Use an ISO metric coarse size${given(reason, 'known', ': ') || ', for instance M6'}.`,
  }),
  'bolster-not-mounted': () => ({
    message: 'No bolster is mounted in the press, so there is nothing to check the plate against.',
    fix: 'Name a bolster by its id, or ask a steward to record which one is mounted.',
  }),
  'plate-facts-absurd': (reason) => ({
    message: `What is said about the plate cannot be${given(reason, 'detail', ': ')}.`,
    fix: 'Check the thickness, screw and sink: all in millimetres.',
  }),
  'screw-hole-not-drawn': (reason) => ({
    message: `Screws of their own are given for holes that the drawing does not have${given(reason, 'holes', ': hole ')}${given(reason, 'drawn', ', and ', ' are drawn')}.`,
    fix: 'Holes are numbered from 1 as the check lists them: name those that take the other screw, or give their diameter instead.',
  }),
  'plate-retired': () => ({
    message: 'The plate is retired: it gets no further revision, and the press is not booked with it.',
    fix: 'Its owner or a steward can take it up again on its page.',
  }),
  'plate-has-owner': () => ({
    message: 'The plate has an owner here, who alone hands it over.',
    fix: 'Ask the owner. A steward gives a plate to somebody once its owner has left.',
  }),
  'new-owner-unknown': () => ({
    message: 'There is nobody like that here to hand the plate to.',
    fix: 'Choose a member who is active, and not the one whose it is.',
  }),
  'new-owner-decided': () => ({
    message: 'They have decided about the clearance of this revision: nobody clears a plate of their own.',
    fix: 'Hand it to somebody else, or add a revision first, which has to be cleared anew.',
  }),
  'stack-part-unknown': () => ({
    message: 'There is no such facing plate or packer on the rack, or it is named twice.',
    fix: 'Choose each from the list of the stock, facing plates and packers apart, or give a thickness instead.',
  }),
  'stack-part-not-in-service': (reason) => ({
    message: `${given(reason, 'name', '') || 'A facing plate or packer'} is retired.`,
    fix: 'Choose one that is in service.',
  }),
  'photograph-not-read': () => ({
    message: 'This is not a photograph that can be read.',
    fix: 'Send a JPEG, PNG or WebP file; a telephone sends JPEG when it is set to the most compatible kind.',
  }),
  'photograph-too-large': (reason) => ({
    message: `The photograph’s file is too large${given(reason, 'limitMib', ': at most ', ' MiB')}.`,
    fix: 'Send it smaller; nothing is lost, for it is kept 1600 pixels large at most.',
  }),
  'photograph-too-many-pixels': (reason) => ({
    message: `The photograph has too many pixels${given(reason, 'limit', ': at most ', ' million')}.`,
    fix: 'Send it smaller; nothing is lost, for it is kept 1600 pixels large at most.',
  }),
  'photograph-moves': () => ({
    message: 'This is an animation, not a photograph.',
    fix: 'Send one still picture of it.',
  }),
  'photographs-full': (reason) => ({
    message: `There are${given(reason, 'limit', ' ')} photographs already, which is as many as are kept.`,
    fix: 'Remove one that is no longer needed, and send this one again.',
  }),
  'revision-not-latest': (reason) => ({
    message: `That revision is not the latest of its plate${given(reason, 'latest', '; the latest is ')}.`,
    fix: 'Use the latest revision.',
  }),
  'revision-unchanged': (reason) => ({
    message: `Nothing is different from revision${given(reason, 'latest', ' ') || ' before'}, so no new one is kept.`,
    fix: 'Choose another drawing or change a figure; a plate’s name is changed by itself.',
  }),
  'report-has-stop': (reason) => ({
    message: `The plate check says stop${checkNames(reason)}, so the plate cannot be booked.`,
    fix: 'Open the report, change what it names, and submit a new revision.',
  }),
  'report-not-known': () => ({
    message: 'The plate has not been checked against the press, bolster and shop rules that will hold then.',
    fix: 'It is checked within the hour, and the booking judged again; if it stays so, ask a steward.',
  }),
  'plate-not-shared': () => ({
    message: 'The plate’s owner does not let others run it any more.',
    fix: 'Ask the owner, or cancel the booking.',
  }),
  'revision-followed': (reason) => ({
    message: `The plate has a later revision${given(reason, 'latest', ', ')}, and nothing stands any more of the one that is booked${given(reason, 'booked', ', ')}.`,
    fix: 'Have the later revision cleared; then move the booking, also to the time it has: it takes the latest.',
  }),
  'plate-not-measured': () => ({
    message: 'No steward has measured the plate and cleared its fit on the mounted bolster.',
    fix: 'Take the plate to a steward: four thickness readings, holes, burrs and heads come before a trial.',
  }),
  'plate-not-cleared': (reason) => ({
    message: `The plate is not cleared for production on the mounted bolster: ${REACHED[String(reason.figures?.reached)] ?? 'it is not as far yet'}.`,
    fix: 'Have a steward take the next step with it: fit, trial, production. A trial is booked as a trial.',
  }),
  'not-cleared-for-resin': (reason) => ({
    message: `The plate is cleared for production${given(reason, 'polymers', ' in ')}, not${given(reason, 'polymer', ' in ') || ' in this resin'}.`,
    fix: 'Choose a resin that it is cleared for, or ask a steward to clear it for this one.',
  }),
  'report-worse-than-accepted': (reason) => ({
    message: `The plate check says more than the steward accepted${checkNames(reason)}${given(reason, 'now', ': ')}${given(reason, 'accepted', ', accepted as ')}.`,
    fix: 'Open the report; a steward looks at it and clears the plate for production anew, or refuses it.',
  }),
  ...CLEARANCE_REASONS,
  ...PRESS_REASONS,
  ...RESIN_REASONS,
  ...RUN_REASONS,
  ...DAMAGE_REASONS,
  'booking-backwards': () => ({
    message: 'The booking ends before it starts, or takes no time.',
    fix: 'Choose an end after the start.',
  }),
  'booking-in-the-past': () => ({
    message: 'The booking would start in the past.',
    fix: 'Choose a start that is still to come.',
  }),
  'booking-too-short': (reason) => ({
    message: `The booking is too short${given(reason, 'minMinutes', ': at least ', ' minutes')}.`,
    fix: 'Make it longer: dry resin, a warm barrel and a mounted plate take their time.',
  }),
  'booking-too-long': (reason) => ({
    message: `The booking is too long${given(reason, 'maxHours', ': at most ', ' hours')}.`,
    fix: 'Shorten it, or split it over several days.',
  }),
  'booking-outside-opening-hours': (reason) => ({
    message: `The workshop is not open for all of that time${given(reason, 'opening', ' (open ', ')')}.`,
    fix: 'Choose a time inside the opening hours.',
  }),
  'booking-too-far-ahead': (reason) => ({
    message: `The booking is too far ahead${given(reason, 'maxDays', ': at most ', ' days')}.`,
    fix: 'Choose an earlier day, or book when the day is nearer.',
  }),
  'inspection-overdue': () => ({
    message: 'The next inspection of the press is due before the booking would be over.',
    fix: 'Choose an earlier time, or ask a steward when the inspection is; it is recorded with the press.',
  }),
  'booking-off-step': (reason) => ({
    message: `Bookings here start and end on the step of the shop’s clock${given(reason, 'stepMinutes', ': every ', ' minutes past the full hour')}.`,
    fix: 'Choose the nearest such time.',
  }),
  'quota-month-spent': (reason) => ({
    message: `That would be more press time than one member may have in a month${given(reason, 'maxHours', ': at most ', ' hours')}${given(reason, 'leftHours', ', of which ', ' are left')}.`,
    fix: 'Shorten the booking, choose another month, or give back time you do not need.',
  }),
  'quota-ahead-spent': (reason) => ({
    message: `That would be more press time still to come than one member may have at once${given(reason, 'maxHours', ': at most ', ' hours')}${given(reason, 'leftHours', ', of which ', ' are left')}.`,
    fix: 'Shorten the booking, or book again when some of your time is over.',
  }),
  'rules-backdated': () => ({
    message: 'Shop rules are never changed backwards.',
    fix: 'Let the change hold from now, or from a day to come.',
  }),
  'rules-too-far-ahead': (reason) => ({
    message: `The change lies too far ahead${given(reason, 'maxDays', ': at most ', ' days')}.`,
    fix: 'Choose an earlier day.',
  }),
  'rules-contradict': () => ({
    message: 'The shortest booking is longer than the longest.',
    fix: 'Make the shortest shorter, or the longest longer.',
  }),
  'rules-unchanged': () => ({
    message: 'Nothing would change: the rules that hold from then on already say all of it.',
    fix: 'Change at least one of them.',
  }),
  'closure-backwards': () => ({
    message: 'The closure ends before it starts, or takes no time.',
    fix: 'Choose an end after the start.',
  }),
  'closure-in-the-past': () => ({
    message: 'The closure would start in the past.',
    fix: 'Let it start now, or later.',
  }),
  'closure-too-far-ahead': (reason) => ({
    message: `The closure lies too far ahead${given(reason, 'maxDays', ': at most ', ' days')}.`,
    fix: 'Choose an earlier end.',
  }),
  'closure-overlaps': (reason) => ({
    message: `There is a closure already${given(reason, 'from', ' from ')}${given(reason, 'until', ' until ')}.`,
    fix: 'Lift that one first, or choose a time beside it.',
  }),
  'closure-over-booking': (reason) => ({
    message: `${reason.figures?.who ?? 'Somebody'} has the press${given(reason, 'from', ' from ')}${given(reason, 'until', ' until ')}.`,
    fix: 'Cancel that booking with a reason, or ask its member to move it; then close.',
  }),
  'closure-already-over': () => ({
    message: 'The closure is over, or has been lifted.',
    fix: 'Look at the closures that stand.',
  }),
  'press-out-of-service': (reason) => ({
    message: `The press is out of service${given(reason, 'from', ' from ')}${given(reason, 'until', ' until ')}.`,
    fix: 'Choose another time, or ask a steward when it will be back.',
  }),
  'press-closed': (reason) => ({
    message: `The press is closed${given(reason, 'from', ' from ')}${given(reason, 'until', ' until ')}.`,
    fix: 'Choose a time outside the closure.',
  }),
  'press-taken': (reason) => ({
    message: `The press is already booked${given(reason, 'ownBookingId', '') && ' by you'}${given(reason, 'from', ' from ')}${given(reason, 'until', ' until ')}.`,
    fix: 'Choose another time.',
  }),
  'booking-already-cancelled': () => ({
    message: 'The booking has already been cancelled.',
    fix: 'Make a new booking.',
  }),
  'booking-already-over': () => ({
    message: 'The booking is already over.',
    fix: 'Make a new booking.',
  }),
  'changed-meanwhile': () => ({
    message: 'Somebody changed this at the same moment.',
    fix: 'Load it again and look whether your change is still wanted.',
  }),
  'first-run-link-spent': () => ({
    message: 'The link for the first account has been used or has expired.',
    fix: 'Sign in with the account that was made, or look at the service’s start-up output for a new link.',
  }),
  'email-taken': () => ({
    message: 'A member with that e-mail address is already there.',
    fix: 'Use another address, or ask for a link to a new password.',
  }),
  'invited-meanwhile': () => ({
    message: 'Somebody else has invited that address at the same moment.',
    fix: 'Look at the open invitations: withdraw that one, or leave it and let its link be handed over.',
  }),
  'link-spent': () => ({
    message: 'The link has been used, withdrawn or has expired, or it is not complete.',
    fix: 'Look whether all of it was copied; else ask a steward for a new one.',
  }),
  'password-weak': ({ figures }) => {
    const fault = String(figures?.fault ?? '');
    if (Object.hasOwn(PASSWORD_FAULTS, fault)) {
      const { why, fix } = PASSWORD_FAULTS[fault as keyof typeof PASSWORD_FAULTS];
      return { message: `The new password ${why}.`, fix };
    }
    return {
      message: 'The new password is easily guessed.',
      fix: 'Use at least 15 characters; four or five words that have nothing to do with you do well.',
    };
  },
  'password-wrong': () => ({
    message: 'That is not the password you have now.',
    fix: 'Type it again; if you do not know it any more, a steward can hand you a link for a new one.',
  }),
  'last-admin': () => ({
    message: 'There would be no admin left who can act.',
    fix: 'Make another member an admin first.',
  }),
  'already-suspended': () => ({
    message: 'The member is suspended already.',
    fix: 'End that suspension first, or leave it as it is.',
  }),
  'not-suspended': () => ({
    message: 'The member is not suspended.',
    fix: 'Load the sheet again; somebody may have ended the suspension.',
  }),
  'member-left': () => ({
    message: 'The member has left; nothing about them can be changed.',
    fix: 'If the person has come back, invite them anew.',
  }),
  'member-suspended': () => ({
    message: 'The member is suspended.',
    fix: 'End the suspension first.',
  }),
  'table-not-read': (reason) => ({
    message: `The table of members could not be read${given(reason, 'detail', ': ')}.`,
    fix: 'Save it as CSV in UTF-8, with the columns “name” and “email” and, if you like, “role”.',
  }),
  'signoff-missing': (reason) => ({
    message: `A sign-off is missing for all of that time${competenceNames(reason)}.`,
    fix: 'Open the inductions: read, answer, and ask for a witness. Or choose a time before the sign-off ends.',
  }),
  'signoff-oneself': () => ({
    message: 'Nobody signs off themselves.',
    fix: 'Ask another steward to watch you and sign.',
  }),
  'signoff-under-eighteen': () => ({
    message: 'Only who is eighteen or older is signed off, and the signer has to declare it.',
    fix: 'Declare it if you know it; under-eighteens are never operators.',
  }),
  'signoff-stands': () => ({
    message: 'The member is signed off for this already.',
    fix: 'To refresh it, load the sheet again and name the sign-off that yours is to follow.',
  }),
  'signoff-ended': () => ({
    message: 'The sign-off has ended already.',
    fix: 'Load the member’s sign-offs again; there may be nothing left to revoke.',
  }),
  'founding-over': () => ({
    message: 'The founding declaration is for the founding admin, until the first steward is signed off.',
    fix: 'Read the induction, answer, and ask a steward to witness.',
  }),
  'founding-open': () => ({
    message:
      'Nobody was ever signed off for stewarding here, and the founding declaration is still open to you.',
    fix: 'Make the founding declaration.',
  }),
  'checklist-unfinished': (reason) => ({
    message: `The checklist is not complete${given(reason, 'missing', ': items missing: ')}.`,
    fix: 'What was not seen done is not signed off: watch the rest, or leave the list out and say what was seen.',
  }),
  'steward-stands': (reason) => ({
    message: `Somebody is signed off for stewarding${given(reason, 'who', ': ')}.`,
    fix: 'Ask them to witness you and to sign you off; if they have the role of a member, give them that of a steward.',
  }),
  'induction-unfinished': (reason) => ({
    message: `Not every part of the induction is read and answered${given(reason, 'parts', ': open are ')}.`,
    fix: 'Read and answer the open parts, then ask for a witness.',
  }),
  'witness-asked-already': () => ({
    message: 'You have asked for a witness already.',
    fix: 'Wait for a steward, or withdraw the request first.',
  }),
  'witness-not-asked': () => ({
    message: 'There is no request for a witness any more.',
    fix: 'Load the list again: it was signed off or withdrawn.',
  }),
  'contents-not-readable': (reason) => ({
    message: `The contents are not an induction yet${given(reason, 'line', ': line ')}${given(reason, 'detail', ', ')}.`,
    fix: 'Put it right as the notes beside the form say, look at the preview, then keep it.',
  }),
  'contents-unchanged': () => ({
    message: 'Nothing would change: the latest version already says all of it.',
    fix: 'Change the title, the interval or the contents, or leave it as it is.',
  }),
  'competence-taken': () => ({
    message: 'There is a competence of that name already.',
    fix: 'Write a new version of it, or choose another name.',
  }),
  'check-took-too-long': () => ({
    message: 'Reading and checking the drawing took too much time or memory, and was stopped.',
    fix: 'Simplify the drawing: fewer short segments, no nested arrays, only what belongs to the plate.',
  }),
  'service-busy': () => ({
    message: 'The service is busy with other checks just now.',
    fix: 'Try again in a few seconds.',
  }),
  'something-broke': (reason) => ({
    message: `Something broke on our side${given(reason, 'requestId', ' (request ', ')')}.`,
    fix: 'Try again; if it stays, tell an admin the time and what you were doing.',
  }),
} satisfies { readonly [code in HouseReasonCode]: (reason: Reason) => ReasonWords };
