import { z } from 'zod';
import { EMPTY, file, json } from './endpoint.ts';
import type { Endpoint } from './endpoint.ts';
import { param } from './identifiers.ts';
import * as photos from './photos.ts';
import { EVERYONE } from './roles.ts';

const uploadParams = z.object({ uploadId: z.string().regex(/^[0-9a-f]{32}$/) });

/** Uploads speak tus 1.0.0 (creation, termination). Metadata `filename` is kept. Source: [TUS]. */
export const PHOTO_ENDPOINTS = {
  startUpload: {
    method: 'post',
    path: '/api/uploads',
    access: EVERYONE,
    summary: 'Start a resumable upload of one photo; the answer names it in Location',
    status: 201,
    answer: EMPTY,
    isUpload: true,
  },
  readUpload: {
    method: 'head',
    path: '/api/uploads/:uploadId',
    access: EVERYONE,
    summary: 'How many bytes of an upload have arrived',
    params: uploadParams,
    status: 200,
    answer: EMPTY,
    isUpload: true,
  },
  sendUploadPart: {
    method: 'patch',
    path: '/api/uploads/:uploadId',
    access: EVERYONE,
    summary: 'Send the next bytes of an upload',
    params: uploadParams,
    status: 204,
    answer: EMPTY,
    isUpload: true,
  },
  removeUpload: {
    method: 'delete',
    path: '/api/uploads/:uploadId',
    access: EVERYONE,
    summary: 'Give an upload up',
    params: uploadParams,
    status: 204,
    answer: EMPTY,
    isUpload: true,
  },
  addPhoto: {
    method: 'post',
    path: '/api/photos',
    access: EVERYONE,
    summary: 'Store a finished upload as a photo that belongs to no round yet, e.g. of a coupon',
    body: photos.addPhotoSchema,
    status: 201,
    answer: json(photos.storedPhotoSchema),
  },
  readPhoto: {
    method: 'get',
    path: '/api/photos/:photoId',
    access: EVERYONE,
    summary: 'One photo',
    params: param('photoId'),
    status: 200,
    answer: json(photos.storedPhotoSchema),
  },
  lookForCard: {
    method: 'get',
    path: '/api/photos/:photoId/card',
    access: EVERYONE,
    summary: 'Whether a card lies in the photo, and where',
    params: param('photoId'),
    status: 200,
    answer: json(photos.cardInPhotoSchema),
  },
  readOriginal: {
    method: 'get',
    path: '/api/photos/:photoId/original',
    access: EVERYONE,
    summary: 'The file as the phone sent it',
    params: param('photoId'),
    status: 200,
    answer: file('application/octet-stream'),
  },
  readDisplay: {
    method: 'get',
    path: '/api/photos/:photoId/display.jpg',
    access: EVERYONE,
    summary: 'Upright in sRGB, longest side at most 2048 px',
    params: param('photoId'),
    status: 200,
    answer: file('image/jpeg'),
  },
  readThumbnail: {
    method: 'get',
    path: '/api/photos/:photoId/thumbnail.jpg',
    access: EVERYONE,
    summary: 'Upright in sRGB, longest side at most 360 px',
    params: param('photoId'),
    status: 200,
    answer: file('image/jpeg'),
  },
  readTilePyramid: {
    method: 'get',
    path: '/api/photos/:photoId/tiles',
    access: EVERYONE,
    summary: 'Size and levels of the tiles for deep zoom',
    params: param('photoId'),
    status: 200,
    answer: json(photos.tilePyramidSchema),
  },
  readTile: {
    method: 'get',
    path: '/api/photos/:photoId/tiles/:level/:column/:row',
    access: EVERYONE,
    summary: 'One tile for deep zoom',
    params: photos.tileParamsSchema,
    status: 200,
    answer: file('image/jpeg'),
  },
} as const satisfies Record<string, Endpoint>;
