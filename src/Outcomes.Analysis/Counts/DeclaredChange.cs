using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>When a change is evaluated, fixed when it is declared.</summary>
/// <param name="Months">With the month in which so many whole months have passed, 6 to 24.</param>
/// <param name="Cases">Sooner, with the month in which so many eligible cases have come together, 40 or more; null: months alone.</param>
public sealed record EvaluationPlan(int Months, int? Cases)
{
    public const int FewestMonths = 6, MostMonths = 24, UsualMonths = 12, MostCases = 10_000;

    /// <summary>With the month in which twelve whole months have passed.</summary>
    public static EvaluationPlan Usual { get; } = new(UsualMonths, null);
}

/// <summary>Another plan than the present one, as the last report said that had it.</summary>
/// <param name="Report">The month of that report.</param>
/// <param name="Plan">The plan.</param>
public sealed record EarlierPlan(Month Report, EvaluationPlan Plan);

/// <summary>What the department changed in its practice, and when, as it declared it.</summary>
/// <param name="Date">The first day on which it applied.</param>
/// <param name="What">What was changed, in the department's words.</param>
/// <param name="Measures">Ids of the measures that it should move.</param>
/// <param name="Expect">Which way it should move their figures; none where they should stay as they are.</param>
/// <param name="NewPhase">
/// Whether charts and signals of these measures start afresh with it. A declared change alone does not: a chart that forgets its
/// baseline whenever something is tried can show neither that it helped nor that it did not.
/// </param>
/// <param name="Why">Why it was made.</param>
public sealed record DeclaredChange(
    DateOnly Date, string What, ImmutableArray<string> Measures, Direction Expect, bool NewPhase, string Why)
{
    /// <summary>When it is evaluated.</summary>
    public EvaluationPlan Plan { get; init; } = EvaluationPlan.Usual;

    /// <summary>
    /// The plan of an earlier report, where it was another one: the date was moved. Null where it was not, or is not known.
    /// </summary>
    public EarlierPlan? EarlierPlan { get; init; }

    /// <summary>The first month that lies wholly after it: a month that holds both ways of working belongs to neither.</summary>
    public Month FirstWhole => Date.Day == 1 ? Month.Of(Date) : Month.Of(Date).AddMonths(1);

    /// <summary>The last month that lies wholly before it.</summary>
    public Month LastBefore => Month.Of(Date).AddMonths(-1);
}
