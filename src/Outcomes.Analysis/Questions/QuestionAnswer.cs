using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The answer to a question: what the report would say of these records.</summary>
/// <param name="Asked">The question.</param>
/// <param name="First">The figures of the first cohort.</param>
public sealed record QuestionAnswer(AskedQuestion Asked, CohortFigures First)
{
    /// <summary>Those of the second; null where none is compared.</summary>
    public CohortFigures? Second { get; init; }

    /// <summary>First against second; null where there is nothing to compare.</summary>
    public CohortComparison? Comparison { get; init; }

    /// <summary>Records needed in each of two groups to show the difference that was named; null where none was, or none can be.</summary>
    public RecordsNeeded? Needed { get; init; }

    /// <summary>The cohort's figure would point at a person: it has fewer records than any level of a report may have.</summary>
    public bool IsTooFew => First.IsTooFew;
}

/// <summary>A cohort with its figures.</summary>
/// <param name="Cohort">The cohort.</param>
/// <param name="Counts">Its counts.</param>
/// <param name="Figures">What the report would say of its measure.</param>
public sealed record CohortFigures(Cohort Cohort, DepartmentCounts Counts, MeasureFigures Figures)
{
    /// <summary>A quantity by stratum; empty for a proportion.</summary>
    public ImmutableArray<StratifiedQuantity> Quantities { get; init; } = [];

    /// <summary>Records by value of a quantity; empty for a proportion.</summary>
    public ImmutableArray<(double Value, long N)> Distribution { get; init; } = [];

    /// <summary>Observed against expected for the cohort's case mix; null where no model stands.</summary>
    public ObservedExpected? CaseMix { get; init; }

    /// <summary>The fields that the question cannot be split by, since no source collects what they need.</summary>
    public ImmutableArray<string> NotCollected { get; init; } = [];

    /// <summary>Records of the cohort, those whose answer is missing included.</summary>
    public long Records => Figures.Year.Eligible + Figures.Year.Missing
        + (Figures.YearQuantity?.N ?? 0) + Figures.YearWithoutValue + Figures.YearUnrecordable;

    /// <summary>With a condition, fewer records than a level of a report may have.</summary>
    public bool IsTooFew => Cohort.Condition.Text.Length > 0 && Records < StratumFigures.LeastRecords;

    /// <summary>Whether levels may be shown: over less than 12 months a group could point at a person.</summary>
    public bool ShowsLevels => Cohort.To.MonthsSince(Cohort.From) >= 11 && !IsTooFew;

    /// <summary>Every count of the cohort as tables hold them: the whole period, then its months, by stratum and level.</summary>
    public IEnumerable<CountedPeriod> Rows()
    {
        var book = Counts.Book;
        foreach (var (stratum, level) in book.Cells(Figures.Measure.Id))
        {
            var series = book.Of(Figures.Measure.Id, stratum, level);
            yield return new(Figures.Measure.Id, $"{Cohort.From}/{Cohort.To}", stratum, level, book.Sum(series, Cohort.From, Cohort.To));
            foreach (var month in Cohort.From.To(Cohort.To))
                yield return new(Figures.Measure.Id, month.ToString(), stratum, level, book.Sum(series, month, month));
        }
    }
}

/// <summary>Two cohorts beside each other.</summary>
public sealed record CohortComparison
{
    /// <summary>Records that are in both; with any, nothing is compared.</summary>
    public long Shared { get; init; }

    /// <summary>First less second; null where one has too few records.</summary>
    public DifferenceEstimate? Difference { get; init; }

    /// <summary>The odds ratio, first over second; null where it cannot be given.</summary>
    public RatioEstimate? OddsRatio { get; init; }

    /// <summary>The same within levels of the fields that the question splits by, with whether the levels share one ratio.</summary>
    public ImmutableArray<WithinLevels> Within { get; init; } = [];
}

/// <summary>Records needed in each of two groups.</summary>
/// <param name="From">The proportion that is there.</param>
/// <param name="To">The one that would differ from it.</param>
/// <param name="PerGroup">Records in each group, for a chance of 80 in 100 to show it.</param>
/// <param name="Months">Months in which a group of the cohort's volume would come together.</param>
public sealed record RecordsNeeded(double From, double To, long PerGroup, double Months);
