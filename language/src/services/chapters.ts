// The chapters of the trade library by their titles, for an editor that offers them to be read.
import { chaptersMethod, type Chapter } from '@thou/shared/protocol';
import { chaptersOf } from '../report/sections.ts';
import { request, type Feature } from './feature.ts';

export const chaptersFeature: Feature = {
  capability: () => ({}),
  requests: [
    request<unknown, Chapter[]>({ method: chaptersMethod }, (_, { guide }) =>
      chaptersOf(guide.library.files).map(({ uri, title }) => ({
        title,
        file: uri.slice(uri.lastIndexOf('/') + 1),
        uri,
      })),
    ),
  ],
};
