using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>What earlier packs held.</summary>
/// <param name="Months">The months that were reported.</param>
/// <param name="Seen">Records that have had a page, and as what at the highest.</param>
public sealed record EarlierReviews(ImmutableArray<Month> Months, IReadOnlyDictionary<string, CaseKind> Seen)
{
    public static readonly EarlierReviews None = new([], ImmutableDictionary<string, CaseKind>.Empty);
}

/// <summary>The cases of a month, and which record each is.</summary>
/// <param name="Pack">What the meeting sees.</param>
/// <param name="Keys">Case id, record id and kind, in the pack's order: for whoever must find the notes.</param>
public sealed record CaseSelection(CasePack Pack, ImmutableArray<(string CaseId, string RecordId, CaseKind Kind)> Keys);

/// <summary>Selects the cases of a report month and gathers what their pages say.</summary>
public sealed class SelectCases
{
    private readonly AnalysisPlan _plan;
    private readonly Engine _engine;
    private readonly ImmutableArray<Measure> _measures;
    private readonly Lazy<IReadOnlyList<HighestCount>> _before;
    private readonly Lazy<Month?> _first;

    /// <param name="plan">Flags, measures, month.</param>
    /// <param name="engine">The records, with the rows set aside.</param>
    public SelectCases(AnalysisPlan plan, Engine engine)
    {
        ArgumentNullException.ThrowIfNull(plan);
        (_plan, _engine) = (plan, engine);
        _measures =
            [
                // A count may take what is not recorded as not done; of a single case nobody may say so.
                .. plan.Definitions.Measures.Where(measure => measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None })
                    .Select(measure => measure with { Missing = MissingRule.Dropped })
            ];
        _before = new(() => engine.HighestBefore(plan.Definitions.Flags, plan.Month));
        _first = new(() => engine.RecordsByMonth().Select(row => (Month?)row.Month).Min());
    }

    /// <summary>The cases of the report month, and those of earlier months that no earlier pack held so high.</summary>
    /// <param name="salt">The department's salt.</param>
    /// <param name="earlier">What earlier packs held.</param>
    /// <param name="signals">Signals of the monitor by record id, for the records asked.</param>
    public CaseSelection Select(ReadOnlySpan<byte> salt, EarlierReviews earlier,
        Func<IReadOnlySet<string>, IReadOnlyDictionary<string, ImmutableArray<CaseSignal>>> signals)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(signals);
        var records = Judged(_plan.Month);
        var late = Late(earlier);
        var selected = Selection.Of(records, _plan.Definitions.Flags, salt, _plan.Audience.ToString().ToLowerInvariant(),
            [.. late.Select(item => item.Record)]);
        var pack = new CasePack
        {
            PipelineName = _plan.Name,
            Dictionary = _plan.Definitions.Dictionary,
            Titles = _plan.Titles,
            Month = _plan.Month,
            Audience = _plan.Audience,
            Invented = _plan.Invented,
            Records = records.Count,
            Cases = Cases(selected, late.ToDictionary(item => item.Record.RecordId, item => item.Month, StringComparer.Ordinal), signals),
            NotRun = [.. RuleNotRun.Flags(_engine.SkippedFlags(_plan.Definitions.Flags))],
        };
        return new(pack, [.. selected.Select(each => (each.Id, each.Record.RecordId, each.Kind))]);
    }

    private IReadOnlyList<JudgedRecord> Judged(Month month) =>
        _engine.Review(_plan.Definitions.Flags, _measures, CaseColumns.Asked(_plan.Definitions.Dictionary), month);

    // Only months that were reported: before the first report of a department everything would be late.
    private ImmutableArray<(Month Month, JudgedRecord Record)> Late(EarlierReviews earlier)
    {
        if (earlier.Months.IsEmpty)
            return [];
        var flags = _plan.Definitions.Flags;
        var late = _engine.HighestIn(flags, earlier.Months).Where(each => CaseKinds.Of(flags[each.Flag].Tier) is var kind
            && CaseKinds.HasPage(kind) && !(earlier.Seen.TryGetValue(each.RecordId, out var before) && before <= kind)).ToArray();
        return [.. late.GroupBy(each => each.Month).SelectMany(group => Judged(group.Key)
            .Where(record => group.Any(each => each.RecordId == record.RecordId)).Select(record => (group.Key, record)))];
    }

    private ImmutableArray<ReviewCase> Cases(
        ImmutableArray<SelectedCase> selected, Dictionary<string, Month> late,
        Func<IReadOnlySet<string>, IReadOnlyDictionary<string, ImmutableArray<CaseSignal>>> signals)
    {
        var paged = selected.Where(each => each.HasPage).Select(each => each.Record).ToArray();
        var attempts = _engine.Attempts(paged, CaseColumns.OfAttempts);
        var drawn = signals(paged.Select(record => record.RecordId).ToHashSet(StringComparer.Ordinal));
        return [.. selected.Select(each => Case(each, [.. attempts[each.Record.RecordId]],
            drawn.GetValueOrDefault(each.Record.RecordId, []), late.TryGetValue(each.Record.RecordId, out var month) ? month : null))];
    }

    private ReviewCase Case(
        SelectedCase each, ImmutableArray<ImmutableDictionary<string, string>> attempts, ImmutableArray<CaseSignal> signals, Month? late)
    {
        var found = new ReviewCase(each.Id, each.Kind, each.Flags)
        {
            HasPage = each.HasPage,
            Late = late,
            Values = CaseColumns.Shown(each.Record, _plan.Definitions.Dictionary),
        };
        return !each.HasPage ? found : found with
        {
            Attempts = attempts,
            Signals = signals,
            Standards = CaseStandards.Of(_measures, each.Record.Answers, _plan.Headline.ToHashSet(StringComparer.Ordinal), each.Flags),
            Earlier = Earlier(each, late ?? _plan.Month),
        };
    }

    private EarlierCases? Earlier(SelectedCase each, Month month)
    {
        if (each.Kind == CaseKind.Drawn || each.Flags.IsEmpty || _first.Value is not { } first || first >= month)
            return null;
        var highest = _plan.Definitions.Flags.IndexOf(each.Flags[0]);
        var alike = _before.Value.Where(count => count.Flag == highest && count.Month < month).ToArray();
        var year = month.AddMonths(-12);
        return new(each.Flags[0].Title, first, alike.Where(count => count.Month >= year).Sum(count => count.Records),
            alike.Sum(count => count.Records), first < year);
    }
}
