import supertest from 'supertest';
import { contentsOf } from '../../server/inductions/contents-of.js';
import { inductionOf } from '../../server/inductions/store.js';
import type { TestHouse } from './app.js';

type Headers = Record<string, string>;

/** The places of the right answers of an induction's latest version, part by part. */
export async function rightAnswers({ database }: TestHouse, competence: string) {
  const induction = await inductionOf(database, competence);
  if (induction === undefined) throw new Error(`There is no induction for ${competence}.`);
  const { version } = induction;
  const { parts } = contentsOf(induction);
  return {
    version,
    parts: parts.map(({ questions }) =>
      questions.map(({ answers }) => answers.findIndex(({ right }) => right)),
    ),
  };
}

/** Answers every part rightly, over the API. */
export async function answerAll(house: TestHouse, headers: Headers, competence: string): Promise<void> {
  const { version, parts } = await rightAnswers(house, competence);
  for (const [i, answers] of parts.entries()) {
    await supertest(house.url)
      .post(`/api/v1/competences/${competence}/answers`)
      .set(headers)
      .send({ version, part: i + 1, answers })
      .expect(200);
  }
}

/** Answers everything and asks for a witness; gives the id of the request. */
export async function askForWitness(house: TestHouse, headers: Headers, competence: string): Promise<string> {
  await answerAll(house, headers, competence);
  const { body } = await supertest(house.url)
    .post(`/api/v1/competences/${competence}/witness`)
    .set(headers)
    .send({})
    .expect(201);
  return body.id;
}
