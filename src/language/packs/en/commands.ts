// What can be asked of the chargehand in plain words, in English. "*" stands for any one word.

const list = (text: string): readonly string[] => text.split('|');

/** Phrases by the command they stand for; what each means is said in src/language/commands.ts. */
export const commands: Readonly<Record<string, readonly string[]>> = {
  next: list(
    'next|nxt|nxt step|what is nxt|nxt please|what is still open|what is still open on this job|what is still open here|what is left to do|what is outstanding|what is still outstanding|what remains|what next|what is next|next step|what now|what should i do next|what do i do next|what is left|what is to do|what i make next|what comes next|what do we do next|what have i got left|what is still to do|what else|did i miss anything|have i missed anything|did i forget anything|have i forgotten anything|am i missing anything|what can i do next|next job please|next please',
  ),
  where: list(
    'where are we with|where are we on|how are we doing|how are we doing with|how far is|where is|status of|where is * at|how is * going|how is * getting on|how far are we with|where are we|where am i|where are we up to|where we up to|status|state of play|how far are we|how is it going|where is this job|where is it at|where have we got to|progress|how far along|job status|summary',
  ),
  'open-jobs': list(
    'open jobs|what jobs are open|which jobs are open|show jobs|list jobs|jobs open|what is open|all jobs|show open jobs|show me the open jobs|what jobs have we got',
  ),
  late: list(
    'what is late|late jobs|which jobs are late|anything late|whats overdue|what is overdue|what is running late|what is behind|who is late',
  ),
  waiting: list(
    'who waits on what|who is waiting for what|who is waiting|what is everybody waiting for|what is waiting|what are we waiting for|what are we waiting on|who is waiting on what|what waits|what is held up|waiting jobs|which jobs are waiting|what is on hold|what is blocked',
  ),
  hours: list(
    'hours|hours booked|how many hours|booked hours|show hours|hours on this job|how long have we spent|time booked|hours so far|how many hours booked|hours today',
  ),
  'hours-ahead': list(
    'hours ahead|show hours ahead|show the hours ahead|work ahead|what is ahead of us|how much work is ahead|when will everything be ready|when will they be ready|when are they ready|forecast for all jobs|forecast for the workshop|forecast all|workload|picture of the workshop',
  ),
  timeline: list(
    'timeline|time line|timeline of|timeline for|timeline for this job|show timeline|show the timeline|show me the timeline|send the timeline|picture|picture of the job|picture of this job|show the picture|show me the picture|send a picture of the job',
  ),
  claim: list(
    'claim|claim folder|show claim folder|show the claim folder|send the claim folder|warranty|warranty claim|warranty folder|what is missing for the claim|what is missing for warranty|what is missing for the warranty claim|what does the claim need|what does the claim still need|what does the claim folder lack|what do we need for the claim|what do we still need for the claim|what do we need for warranty|garantieantrag',
  ),
  'last-week': list(
    'how did last week go|how did we do last week|last week summary|what happened last week|how was the week|show last week|last week|how was last week|last weeks jobs|week summary|weekly summary',
  ),
  forecast: list(
    'forecast for|forecast for this one|forecast for this job|when will * be ready|when will * be done|when will * be finished|when is * ready|when is * done|when can * go|when will this be ready|when will this one be ready|when can i have it|when can i have it back|when is it going to be ready|when will it be ready|when will it be done|when is it ready|forecast|when will it be finished|when done|ready when|when ready|when is this ready|how long until it is ready|finish time|what time will it be ready|eta|when will that be ready|will it be ready|when is it due out',
  ),
  handover: list(
    'handover|hand over|shift note|handover note|give me the handover|shift handover|what happened last shift',
  ),
  'open-job': list(
    'open job|new job|open a job|start a new job|open a new job|create job|start job|book in',
  ),
  'close-job': list(
    'close job|close the job|close this job|close it|close this|job finished|job complete|job done|close off the job|close up the job|finish job|finish the job|close her up|sign off the job',
  ),
  'cancel-job': list(
    'cancel job|cancel the job|cancel this job|abandon job|job cancelled|job is cancelled',
  ),
  'road-release': list(
    'release to the road|release to road|road release|released to the road|release to service|release for service|fit for the road|fit for service|release it to the road|release the bus',
  ),
  release: list(
    'release|released|release hold|release the hold|i release|hold released|release it|hold point released|you can go on',
  ),
  refuse: list('refuse|refused|not released|do not release|i refuse|release refused|hold refused'),
  override: list('override|overriding|overridden|overrule|i override'),
  acknowledge: list('acknowledge|acknowledged|ack|seen|noted|flag seen|seen the flag|seen it'),
  approve: list(
    'approve|approved|i approve|go ahead with it|approved go ahead|extra work approved',
  ),
  decline: list('decline|declined|not approved|i decline|extra work declined'),
  'what-did-you-read': list(
    'what did you read|what have you read|what did you understand|what did you record|what did you write down|what have you got down|what did you note|what did you get|what have you recorded|read back|read it back',
  ),
  record: list(
    'record|job record|the record|record of|record for|show record|show the record|record please|send the record|send me the record|record of this job|record for this job|record as pdf|record pdf|print record|print the record|job sheet|show job sheet|show the job sheet',
  ),
  history: list(
    'history of|show history of|history for|what has * had done|what have we done on this bus|history|vehicle history|show history|what was done before|what has been done before|previous jobs|earlier jobs|last time on this bus',
  ),
  help: list(
    'what can i type|what can i ask|what can i write|what do i type|what should i type|how do i use you|what do you understand|what can i tell you|what can i do here|help|what can i say|what can you do|how does this work|how do i use this|commands|help me',
  ),
  assign: list(
    'assign|assign to|give the job to|give this to|give it to|take over job|assign job|put * on this|hand this to',
  ),
  'move-message': list(
    'move that to|move this to|move message|move that message|move the last message|put that on job|that belongs to job|move it to|move to job',
  ),
};

/** Questions for a figure of the plan: "what torque for stage 2". */
export const limitPhrases = list(
  'what torque|which torque|torque for|torque value|what is the torque|what are the torques|what figure|what setting|what is the limit|what limit|what angle|how much|how many|how tight|what spec|what is the spec|what pressure|what clearance|what gap|limits for|limit for|spec for|what range|in spec|within spec|what volume|what should it be|how long|nm for|what are the limits|what value|torque setting|torque on|tell me the torque|whats the torque|max for|min for|tolerance',
);

/** Questions for a calculation of the trade. */
export const figurePhrases = list(
  'with extension|with an extension|crowfoot|wrench setting|set the wrench|wrench with|extension of|convert|in lb ft|in nm|in psi|in bar|in litres|in foot pounds|freeze point|freezing point|antifreeze for|mix for|concentration|protection down to|valve positions|which valves|valves at tdc|trouble code|fault code|what does p|what does spn|what is spn|what is p0|mean|vin|check digit',
);
