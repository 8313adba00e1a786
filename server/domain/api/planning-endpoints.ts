import { doseRequestSchema, dosePictureSchema } from '../dose.ts';
import { quoteSchema } from '../quote.ts';
import { EMPTY, file, json } from './endpoint.ts';
import type { Endpoint } from './endpoint.ts';
import { param } from './identifiers.ts';
import { EVERYONE } from './roles.ts';
import * as trials from './trials.ts';

const LEARNING_KEEPERS = ['trainer', 'administrator'] as const;

export const PLANNING_ENDPOINTS = {
  listTrials: {
    method: 'get',
    path: '/api/trials',
    access: EVERYONE,
    summary: 'Trials',
    query: trials.trialsQuerySchema,
    status: 200,
    answer: json(trials.trialsPageSchema),
  },
  addTrial: {
    method: 'post',
    path: '/api/trials',
    access: EVERYONE,
    summary: 'Plan a trial: patches whose outcomes tell most',
    body: trials.newTrialSchema,
    status: 201,
    answer: json(trials.shopTrialSchema),
  },
  readTrial: {
    method: 'get',
    path: '/api/trials/:trialId',
    access: EVERYONE,
    summary: 'One trial, with its result once it was read',
    params: param('trialId'),
    status: 200,
    answer: json(trials.shopTrialSchema),
  },
  readTrialSheet: {
    method: 'get',
    path: '/api/trials/:trialId/sheet.pdf',
    access: EVERYONE,
    summary: 'The sheet that goes along to the trial',
    params: param('trialId'),
    query: trials.trialSheetQuerySchema,
    status: 200,
    answer: file('application/pdf'),
  },
  fitTrial: {
    method: 'put',
    path: '/api/trials/:trialId/reading',
    access: EVERYONE,
    summary: 'Fit the surface to the patches of a finished comparison that carry the names of the plan',
    params: param('trialId'),
    body: trials.trialReadingSchema,
    status: 200,
    answer: json(trials.shopTrialSchema),
  },
  removeTrial: {
    method: 'delete',
    path: '/api/trials/:trialId',
    access: LEARNING_KEEPERS,
    summary: 'Remove a trial',
    params: param('trialId'),
    status: 204,
    answer: EMPTY,
  },
  drawDose: {
    method: 'post',
    path: '/api/dose-pictures',
    access: EVERYONE,
    summary: 'What settings lay on the metal and should leave there; nothing is kept',
    body: doseRequestSchema,
    status: 200,
    answer: json(dosePictureSchema),
  },
  makeQuote: {
    method: 'post',
    path: '/api/quotes',
    access: EVERYONE,
    summary: 'Hours and cost of an area, with a range; nothing is kept',
    body: trials.newQuoteSchema,
    status: 200,
    answer: json(quoteSchema),
  },
  listLearned: {
    method: 'get',
    path: '/api/learned',
    access: EVERYONE,
    summary: 'What the zones of the shop have taught, for each machine and kind of surface',
    status: 200,
    answer: json(trials.learnedSchema),
  },
  forgetLearned: {
    method: 'put',
    path: '/api/learned/forgotten',
    access: LEARNING_KEEPERS,
    summary: 'Start again from common practice for a machine and a kind of surface; measured rounds stay',
    body: trials.forgetSchema,
    status: 200,
    answer: json(trials.learnedSchema),
  },
} as const satisfies Record<string, Endpoint>;
