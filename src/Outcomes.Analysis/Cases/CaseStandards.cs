using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Analysis;

/// <summary>A measure and its answer for one case.</summary>
public sealed record CaseMeasure(Measure Measure, Answer Answer);

/// <summary>
/// What the measures say of one case, cut to what a meeting talks about. First come the measures that the flags which fired name as
/// <c>standards</c>, in the flags' order, then the headline measures in the pipeline's order; of each answer at most <see cref="Most"/> are
/// told. Other standards that were met are counted; others that were not are named, for nothing that fell short may be hidden by its rank.
/// </summary>
/// <param name="WentWell">Welcome answers that are told.</param>
/// <param name="MoreMet">Welcome answers beside them.</param>
/// <param name="Expected">Unwelcome answers that are told, with the reason for the standard.</param>
/// <param name="AlsoNotMet">The unwelcome answers beside them.</param>
/// <param name="NotRecorded">Measures named by the flags, and headline ones, that the record does not allow to judge.</param>
public sealed record CaseStandards(
    ImmutableArray<CaseMeasure> WentWell, int MoreMet, ImmutableArray<CaseMeasure> Expected, ImmutableArray<CaseMeasure> AlsoNotMet,
    ImmutableArray<CaseMeasure> NotRecorded)
{
    /// <summary>How many of each answer are told.</summary>
    public const int Most = 6;

    public static readonly CaseStandards None = new([], 0, [], [], []);

    /// <summary>The standards of a case.</summary>
    /// <param name="measures">Measures with a direction, headline ones first, in the pipeline's order.</param>
    /// <param name="answers">
    /// Their answers for the case, in the same order: missing where the record does not say, whatever a count makes of that.
    /// </param>
    /// <param name="headline">Ids of the headline measures.</param>
    /// <param name="flags">The flags that fired, the highest first.</param>
    public static CaseStandards Of(
        IReadOnlyList<Measure> measures, IReadOnlyList<Answer> answers, IReadOnlySet<string> headline, IEnumerable<Flag> flags)
    {
        ArgumentNullException.ThrowIfNull(measures);
        ArgumentNullException.ThrowIfNull(answers);
        var first = flags.SelectMany(flag => flag.Standards).Distinct().ToArray();
        CaseMeasure[] all = [.. measures.Select((measure, i) => new CaseMeasure(measure, answers[i]))];
        var judged = all.Where(item => item.Answer is Answer.Met or Answer.NotMet)
            .OrderBy(item => Rank(item.Measure)).ToLookup(item => (item.Answer == Answer.Met) == (item.Measure.Direction == Direction.Up));
        var well = judged[true].ToArray();
        var told = judged[false].Where(item => Rank(item.Measure) < int.MaxValue).Take(Most).ToArray();
        CaseMeasure[] wentWell = [.. well.Where(item => Rank(item.Measure) < int.MaxValue).Take(Most)];
        return new([.. wentWell], well.Length - wentWell.Length, [.. told], [.. judged[false].Except(told)],
            [.. all.Where(item => item.Answer == Answer.Missing && Rank(item.Measure) < int.MaxValue).OrderBy(item => Rank(item.Measure))]);

        int Rank(Measure measure) =>
            Array.IndexOf(first, measure.Id) is var at and >= 0 ? at : headline.Contains(measure.Id) ? first.Length : int.MaxValue;
    }
}
