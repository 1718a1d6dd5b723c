using System.Collections.Immutable;
using Outcomes.CaseMix;
using Outcomes.Cli.Definitions;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Run;

/// <summary>The judged records of a measure with their case mix, and the model of their events that was fitted to the declared baseline.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Data">Events and case mix, a value a record.</param>
/// <param name="Months">The month of each record.</param>
/// <param name="Sites">The site of each record; empty where no source says it.</param>
/// <param name="NotCollected">Fields of the case mix that no source collects.</param>
/// <param name="Fit">The model, or why there is none.</param>
public sealed record FittedMix(
    Measure Measure, CaseMixData Data, ImmutableArray<Month> Months, ImmutableArray<string?> Sites, ImmutableArray<string> NotCollected, CaseMixFit Fit)
{
    private const string Site = "site_code";

    // A rounded chance of 0 or 1 would be certainty, which no model gives.
    private const double Least = 1e-6;

    /// <summary>The first and the last month that the model was fitted to.</summary>
    public required (Month From, Month To) Baseline { get; init; }

    /// <summary>True when the event is that the measure was not met: the event is what is unwelcome.</summary>
    public bool EventIsNotMet => IsNotMet(Measure);

    /// <summary>One a measure that the pipeline asks for, in its order; none without <c>case_mix</c>.</summary>
    public static ImmutableArray<FittedMix> All(Pipeline pipeline, Catalogue catalogue, SeriesBook book, Engine engine)
    {
        if (pipeline.CaseMix is not { } request)
            return [];
        // The engine answers one at a time; the fits go side by side, each with seeds of its own.
        var designs = request.Measures.Select(word => catalogue.Measures.First(measure => measure.Id == word.Word))
            .Select(measure => (Measure: measure, Design: engine.Design(measure, [.. request.Given.Select(word => word.Word), Site]))).ToArray();
        return [.. designs.AsParallel().AsOrdered().Select(item => Of(pipeline, request, book, item.Measure, item.Design))];
    }

    /// <summary>The records of the baseline, as indexes.</summary>
    public int[] BaselineRecords() => [.. Enumerable.Range(0, Months.Length).Where(i => Months[i] >= Baseline.From && Months[i] <= Baseline.To)];

    /// <summary>
    /// For every month of the book the chance of the event of each judged record, in six digits, so that processors agree; null without a model. Chances of single
    /// records: they are for the watch for change alone, and no report or table holds them.
    /// </summary>
    public ImmutableArray<ImmutableArray<double>>? Chances(SeriesBook book)
    {
        if (Fit.Model is not { } model)
            return null;
        var months = book.First.To(book.Last).Select(_ => ImmutableArray.CreateBuilder<double>()).ToArray();
        foreach (var (record, chance) in model.Expected(Data).Index())
            months[Months[record].MonthsSince(book.First)].Add(Math.Clamp(ExpectedEvents.Six(chance), Least, 1 - Least));
        return [.. months.Select(month => month.ToImmutable())];
    }

    private static FittedMix Of(Pipeline pipeline, CaseMixRequest request, SeriesBook book, Measure measure, Design design)
    {
        int[] used = [.. Enumerable.Range(0, design.Months.Length).Where(i => design.Months[i] >= book.First && design.Months[i] <= book.Last)];
        var data = new CaseMixData([.. used.Select(i => design.Met[i] != IsNotMet(measure))],
            [.. design.Fields.Where(field => request.Given.Any(word => word.Word == field.Name)).Select(field => Covariate(field).Select(used))]);
        var (from, to) = BaselineOf(pipeline, book);
        ImmutableArray<Month> months = [.. used.Select(i => design.Months[i])];
        int[] baseline = [.. Enumerable.Range(0, months.Length).Where(i => months[i] >= from && months[i] <= to)];
        var sites = design.Fields.FirstOrDefault(field => field.Name == Site)?.Levels;
        return new(measure, data, months, sites is null ? [] : [.. used.Select(i => sites.Value[i])], [.. design.NotCollected.Where(field => field != Site)],
            CaseMixFit.Fit(data.Select(baseline), new CaseMixOptions { AsFarAsEventsAllow = request.Shipped }))
        { Baseline = (from, to) };
    }

    // The baseline of the run charts: later months are judged against it.
    private static (Month From, Month To) BaselineOf(Pipeline pipeline, SeriesBook book)
    {
        if (pipeline.WholeBaseline)
            return (book.First, book.Last);
        var (from, months) = pipeline.Baseline ?? (book.First, 12);
        var to = from.AddMonths(months - 1);
        return (from, to < book.Last ? to : book.Last);
    }

    private static bool IsNotMet(Measure measure) => measure.Direction == Direction.Up;

    private static Covariate Covariate(DesignField field) => field.Numbers.IsDefault
        ? CaseMix.Covariate.Code(field.Name, field.Levels)
        : CaseMix.Covariate.Quantity(field.Name, field.Numbers);
}
