using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Reporting.Cases;

/// <summary>A signal with the name that people read.</summary>
public sealed record NamedSignal(string Title, ImmutableArray<(double Seconds, double Value)> Points, int Thinned);

/// <summary>One case in words, as its page and the terminal print it.</summary>
public sealed record CaseView(string Id, CaseKind Kind, ImmutableArray<FiredFlag> Flags)
{
    public bool HasPage { get; init; }

    public Month? Late { get; init; }

    public EarlierCases? Earlier { get; init; }

    public ImmutableArray<FactGroup> Facts { get; init; } = [];

    public ImmutableArray<CaseAttempt> Attempts { get; init; } = [];

    /// <summary>Plan ladder of the case: each plan and what became of it.</summary>
    public ImmutableArray<CaseFact> Plans { get; init; } = [];

    /// <summary>Moments with a recorded time, in order of time.</summary>
    public ImmutableArray<CaseMoment> Moments { get; init; } = [];

    public ImmutableArray<NamedSignal> Signals { get; init; } = [];

    public CaseStandards Standards { get; init; } = CaseStandards.None;

    /// <summary>The case in words; one without a page is told by its flags alone.</summary>
    public static CaseView Write(ReviewCase each, CasePack pack)
    {
        ArgumentNullException.ThrowIfNull(each);
        return new(each.Id, each.Kind, CaseFacts.Flags(each, pack))
        {
            HasPage = each.HasPage,
            Late = each.Late,
            Earlier = each.Earlier,
            Facts = each.HasPage ? CaseFacts.Known(each, pack) : [],
            Attempts = CaseFacts.Attempts(each, pack),
            Plans = each.HasPage ? CaseFacts.Plans(each, pack) : [],
            Moments = each.HasPage ? CaseFacts.Moments(each) : [],
            Signals = [.. each.Signals.Select(signal => new NamedSignal(Title(signal.Signal), signal.Points, signal.Thinned))],
            Standards = each.Standards,
        };
    }

    private static string Title(string signal) => signal switch
    {
        "spo2" => "SpO2, %",
        "sbp" => "Systolic pressure, mmHg",
        "etco2" => "End-tidal CO2",
        _ => signal,
    };
}
