using System.Collections.Immutable;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion.Traces;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Model;

namespace Outcomes.Cli.Run;

/// <summary>Gathers what the pages of cases tell.</summary>
public sealed class CaseDetails
{
    private const int MostPoints = 600;

    private static readonly (Signal Signal, string Title)[] Signals = [(Signal.SpO2, "SpO2, %"), (Signal.Systolic, "Systolic pressure, mmHg"), (Signal.EtCO2, "End-tidal CO2")];

    private readonly Catalogue _catalogue;
    private readonly Engine _engine;
    private readonly Month _month;
    private readonly ImmutableArray<Measure> _measures;
    private readonly HashSet<string> _headline;
    private readonly Lazy<IReadOnlyList<HighestCount>> _before;
    private readonly Lazy<Month?> _first;

    public CaseDetails(Pipeline pipeline, Catalogue catalogue, Engine engine, Month month)
    {
        (_catalogue, _engine, _month) = (catalogue, engine, month);
        _measures = [.. catalogue.Measures.Where(measure => measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None })];
        _headline = pipeline.Headline.Select(word => word.Word).ToHashSet(StringComparer.Ordinal);
        _before = new(() => engine.HighestBefore(catalogue.Flags, month));
        _first = new(() => engine.RecordsByMonth().Select(row => (Month?)row.Month).Min());
    }

    /// <summary>The records of a month with the flags that fire on them and what the measures say.</summary>
    public IReadOnlyList<JudgedRecord> Judged(Month month) => _engine.Review(_catalogue.Flags, _measures, CaseFacts.Columns(_catalogue.Dictionary), month);

    /// <summary>Cases with what their pages tell.</summary>
    /// <param name="selected">The cases.</param>
    /// <param name="traces">Traces of the monitor, where there are any.</param>
    /// <param name="late">Months of the records that came late.</param>
    public ImmutableArray<ReviewCase> Cases(ImmutableArray<SelectedCase> selected, TraceSet? traces, Dictionary<string, Month> late)
    {
        var paged = selected.Where(each => each.HasPage).Select(each => each.Record).ToArray();
        var attempts = _engine.Attempts(paged, CaseFacts.AttemptFields);
        var samples = traces is null ? [] : TraceSamples.Of(traces, paged.Select(record => record.RecordId).ToHashSet(StringComparer.Ordinal));
        return [.. selected.Select(each => Case(each, attempts[each.Record.RecordId], samples.GetValueOrDefault(each.Record.RecordId),
            late.TryGetValue(each.Record.RecordId, out var month) ? month : null))];
    }

    private ReviewCase Case(SelectedCase each, IEnumerable<ImmutableDictionary<string, string>> attempts, RecordTrace? trace, Month? late)
    {
        var dictionary = _catalogue.Dictionary;
        var flags = each.Flags.Select(flag => new FiredFlag(flag.Id, flag.Title, flag.Tier, flag.Why,
            [.. flag.Shows.Select(name => CaseFacts.Fact(dictionary, name, each.Record.Values.GetValueOrDefault(name)))]));
        var seen = new ReviewCase(each.Id, each.Kind, [.. flags]) { HasPage = each.HasPage, Late = late };
        if (!each.HasPage)
            return seen;
        return seen with
        {
            Facts = CaseFacts.Of(each.Record, dictionary),
            Plans = CaseFacts.Plans(each.Record),
            Attempts = CaseFacts.Attempts(attempts),
            Moments = CaseFacts.Moments(each.Record, attempts),
            Signals = trace is null ? [] : [.. Signals.Select(signal => Drawn(trace, signal.Signal, signal.Title)).OfType<CaseSignal>()],
            Standards = CaseStandards.Of(_measures, each.Record.Answers, _headline, each.Flags),
            Earlier = Earlier(each, late ?? _month),
        };
    }

    private static CaseSignal? Drawn(RecordTrace trace, Signal signal, string title)
    {
        var clean = CleanSignal.Of(trace.Of(signal));
        if (clean.Count == 0)
            return null;
        var span = (clean.Ms(clean.Count - 1) - clean.Ms(0)) / 1000;
        var thinned = clean.Count > MostPoints ? (span / MostPoints) + 1 : 0;
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        for (var i = 0; i < clean.Count; i++)
        {
            var (lowest, from) = (clean.Value(i), clean.Ms(i));
            while (thinned > 0 && clean.Joined(i) && clean.Ms(i + 1) - from < thinned * 1000)
                lowest = Math.Min(lowest, clean.Value(++i));
            points.Add((from / 1000.0, lowest));
            if (i + 1 < clean.Count && !clean.Joined(i)) points.Add((clean.Ms(i) / 1000.0, double.NaN));
        }

        return new CaseSignal(title, points.ToImmutable(), thinned);
    }

    private EarlierCases? Earlier(SelectedCase each, Month month)
    {
        if (each.Kind == CaseKind.Drawn || each.Flags.IsEmpty || _first.Value is not { } first || first >= month)
            return null;
        var highest = _catalogue.Flags.IndexOf(each.Flags[0]);
        var alike = _before.Value.Where(count => count.Flag == highest && count.Month < month).ToArray();
        var year = month.AddMonths(-12);
        return new(each.Flags[0].Title, first, alike.Where(count => count.Month >= year).Sum(count => count.Records), alike.Sum(count => count.Records), first < year);
    }
}
