using System.Collections.Immutable;
using Outcomes.Measures;

namespace Outcomes.Analysis;

/// <summary>What was counted for a question.</summary>
/// <param name="Asked">The question.</param>
/// <param name="First">The counts of the first cohort.</param>
/// <param name="Second">Those of the second; null where none is compared.</param>
/// <param name="Shared">Records that are in both.</param>
public sealed record QuestionCounts(AskedQuestion Asked, CohortCounts First, CohortCounts? Second, long Shared);

/// <summary>What was counted for a cohort.</summary>
/// <param name="Counts">Its counts.</param>
/// <param name="CaseMix">Its judged records with their case mix; null where the measure has no model.</param>
/// <param name="NotCollected">Fields of the split that no source collects.</param>
public sealed record CohortCounts(DepartmentCounts Counts, Design? CaseMix, ImmutableArray<string> NotCollected);
