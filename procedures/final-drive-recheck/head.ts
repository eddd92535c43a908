import { facts, figures, tools } from '../final-drive/head.ts';

const { retainer, link, adapter } = facts;
const { axleTorque, frontTorque, rearTorque, rearBolts, slackMin, slackMax, alignmentMax } = figures;

export const head = {
  title: 'Re-check chain and sprockets after the first ride',
  revision: 1,
  covers:
    "The look and the readings after the first ride on a new chain and sprockets. Parts found bad are renewed by the full job; the maker's service manual and local rules come first.",
  facts: { retainer, link, adapter },
  figures: { axleTorque, frontTorque, rearTorque, rearBolts, slackMin, slackMax, alignmentMax },
  tools: {
    torqueWrench: tools.torqueWrench,
    steelRule: tools.steelRule,
    feelerGauge: tools.feelerGauge,
  },
};
