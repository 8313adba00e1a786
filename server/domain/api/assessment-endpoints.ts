import * as assessments from './assessments.ts';
import * as corrections from './corrections.ts';
import { events, file, json } from './endpoint.ts';
import type { Endpoint } from './endpoint.ts';
import { idSchema, param } from './identifiers.ts';
import { EVERYONE } from './roles.ts';
import { z } from 'zod';

/** Whoever may overrule the class map. */
const JUDGES = ['inspector', 'administrator'] as const;

export const ASSESSMENT_ENDPOINTS = {
  listAssessments: {
    method: 'get',
    path: '/api/assessments',
    access: EVERYONE,
    summary: 'Assessments',
    query: assessments.assessmentsQuerySchema,
    status: 200,
    answer: json(assessments.assessmentsPageSchema),
  },
  startAssessment: {
    method: 'post',
    path: '/api/rounds/:roundId/assessments',
    access: EVERYONE,
    summary: 'Have a round assessed; it waits its turn',
    params: param('roundId'),
    body: assessments.newAssessmentSchema,
    status: 202,
    answer: json(assessments.zoneAssessmentSchema),
  },
  readAssessment: {
    method: 'get',
    path: '/api/assessments/:assessmentId',
    access: EVERYONE,
    summary: 'One assessment with its result',
    params: param('assessmentId'),
    status: 200,
    answer: json(assessments.zoneAssessmentSchema),
  },
  followAssessment: {
    method: 'get',
    path: '/api/assessments/:assessmentId/progress',
    access: EVERYONE,
    summary: 'Progress as server-sent events named "progress"; the stream ends with state done or failed',
    params: param('assessmentId'),
    status: 200,
    answer: events(assessments.progressSchema),
  },
  readOverlay: {
    method: 'get',
    path: '/api/assessments/:assessmentId/overlay.png',
    access: EVERYONE,
    summary: 'The after photo with classes by pattern, worst square, streaks and legend',
    params: param('assessmentId'),
    status: 200,
    answer: file('image/png'),
  },
  readClassMap: {
    method: 'get',
    path: '/api/assessments/:assessmentId/class-maps/:map.png',
    access: EVERYONE,
    summary:
      'Class codes as 8-bit grey: 0 not measured, 1 bare, 2 stain, 3 rust, 4 scale, 5 coating, 255 outside the zone',
    params: corrections.classMapParamsSchema,
    query: corrections.classMapQuerySchema,
    status: 200,
    answer: file('image/png'),
  },
  readDoubtfulMap: {
    method: 'get',
    path: '/api/assessments/:assessmentId/doubtful-maps/:map.png',
    access: EVERYONE,
    summary: 'Where two segmenters disagree about residue, as 8-bit grey the size of the class map: 1 doubtful, 0 not',
    params: corrections.classMapParamsSchema,
    status: 200,
    answer: file('image/png'),
  },
  listCorrections: {
    method: 'get',
    path: '/api/assessments/:assessmentId/corrections',
    access: EVERYONE,
    summary: 'Corrections of an assessment, withdrawn ones too',
    params: param('assessmentId'),
    status: 200,
    answer: json(corrections.correctionsSchema),
  },
  tryCorrection: {
    method: 'post',
    path: '/api/assessments/:assessmentId/corrections/trial',
    access: JUDGES,
    summary: 'The shares that marks would give on top of the corrections that stand; nothing is kept',
    params: param('assessmentId'),
    body: corrections.correctionTrialSchema,
    status: 200,
    answer: json(corrections.correctedSurfaceSchema),
  },
  addCorrection: {
    method: 'post',
    path: '/api/assessments/:assessmentId/corrections',
    access: JUDGES,
    summary: 'Paint on a class map',
    params: param('assessmentId'),
    body: corrections.newCorrectionSchema,
    status: 201,
    answer: json(corrections.correctionsSchema),
  },
  withdrawCorrection: {
    method: 'delete',
    path: '/api/assessments/:assessmentId/corrections/:correctionId',
    access: JUDGES,
    summary: 'Take a correction back; it stays on record',
    params: z.object({ assessmentId: idSchema, correctionId: idSchema }),
    status: 200,
    answer: json(corrections.correctionsSchema),
  },
} as const satisfies Record<string, Endpoint>;
