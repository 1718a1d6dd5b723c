using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Outcomes.Analysis;
using Outcomes.Cli.Compute;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Cli.Commands;

/// <summary>
/// <c>outcomes power</c>: what change this department would notice, how soon, how surely, and how many cases an interval needs.
/// </summary>
internal static class PowerCommand
{
    private const int Months = 24, Replicates = 4_000;
    private static readonly int[] Within = [6, 12, 24];

    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var asOf = RunCommand.AsOfOption();
        var source = RunCommand.SourceOption();
        var json = new Option<bool>("--json") { Description = "Writes JSON for machines." };
        var command = new Command("power",
            "Says what change of each headline measure would be noticed at this department's volume, how soon and how surely.")
        {
            pipeline, asOf, source, json
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetValue(asOf), parsed.GetValue(source),
            parsed.GetValue(json)));
        return command;
    }

    private static ExitCode Execute(string path, string? asOf, string[]? replaced, bool json)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        if (pipeline.Headline.IsEmpty)
            throw Failure.Definition(pipeline.File, 1,
                "the pipeline has no `headline` measures, and only those are watched for change; name some");
        if (pipeline.WholeBaseline)
            throw Failure.Definition(pipeline.File, 1,
                "`baseline: all` leaves no month to be compared with a history; give the baseline a first month and a length");
        var when = RunCommand.AsOf(asOf, pipeline);
        using var records = CheckedRecords.Open(pipeline, when);
        if (!records.IsTolerated)
        {
            Console.Error.WriteLine($"{Tool.Name}: {records.WhyRefused}; nothing can be said; "
                + $"`{Tool.Name} check {path}` says why");
            return ExitCode.Input;
        }

        var counted = CountDepartment.CountTested(records.Engine, records.Defined.Plan(Pipeline.LastEnded(when)), records.ByMonth);
        var powers = MeasurePower.Estimate(counted, Months, Replicates);
        if (json)
            Console.Out.WriteLine(Json(pipeline, counted, powers.Select(each => each.Power).OfType<MeasurePower>())
                .ToJsonString(new() { WriteIndented = true }));
        else
            Print(pipeline, counted, powers);
        return ExitCode.Done;
    }

    private static void Print(PipelineDefinition pipeline, DepartmentCounts counted, IReadOnlyList<TestedMeasure> powers)
    {
        Console.Out.WriteLine($"""
            {pipeline.Name}: what would be noticed if it started after {Plain(Wording.Name(counted.Month))}, with the volumes and rates so far
            Simulated; false signals included. No signal does not prove that nothing changed. {Tool.Caution}
            """);
        foreach (var (measure, signal, power) in powers)
        {
            Console.Out.WriteLine($"\n{measure.Title}");
            if (power is null)
            {
                Console.Out.WriteLine(signal.IsTooRare ? "  too rare to test monthly: compared once a year" : "  too few cases to judge");
                continue;
            }

            var per = measure.Per;
            Console.Out.WriteLine(
                Plain($"  now {Wording.Rate(power.Rate, per)}, {power.Volume.ToString("0.#", CultureInfo.InvariantCulture)} eligible cases "
                    + $"a month"));
            foreach (var change in power.Changes)
                Console.Out.WriteLine(
                    Plain($"  {(change.ForTheWorse ? "worse " : "better")} to {Wording.Rate(change.To, per),-8} {Said(change)}"));
            Console.Out.WriteLine(Plain("  a 95 % interval of " + string.Join(", of ", power.CasesNeeded.Select(need =>
                $"±{(need.HalfWidth * 100).ToString("0", CultureInfo.InvariantCulture)} "
                    + $"points: {Wording.Some(need.Cases, "case")}, {Time(need.Cases / power.Volume)}"))));
        }
    }

    private static string Said(NoticedChange change) => change.Detection is not { } detection
        ? "cannot be said: too few procedures to judge"
        : string.Join(", ", Within.Where(months => months <= detection.Noticed.Length)
            .Select(months => $"{Wording.Hundred(detection.Within(months))} in 100 within {months} months"))
            + (detection.MonthsTo() is { } half
                ? $"; half of the time by month {half}"
                : $"; half of the time not within {detection.Noticed.Length} months");

    private static string Time(double months) =>
        months <= 1 ? "one month"
        : months < 24 ? $"{Math.Ceiling(months).ToString(CultureInfo.InvariantCulture)} months"
        : $"{(months / 12).ToString("0", CultureInfo.InvariantCulture)} years";

    private static JsonObject Json(PipelineDefinition pipeline, DepartmentCounts counted, IEnumerable<MeasurePower> powers) => new()
    {
        ["pipeline"] = pipeline.Name,
        ["after"] = counted.Month.ToString(),
        ["measures"] = new JsonArray([.. powers.Select(power => (JsonNode)new JsonObject
        {
            ["measure"] = power.Measure.Id,
            ["rate"] = Numbers.Of(power.Rate),
            ["eligible_a_month"] = Numbers.Of(power.Volume),
            ["history"] = $"{power.Window.HistoryFrom}/{power.Window.HistoryTo}",
            ["changes"] = new JsonArray([.. power.Changes.Select(change => (JsonNode)new JsonObject
            {
                ["to"] = Numbers.Of(change.To),
                ["for_the_worse"] = change.ForTheWorse,
                ["noticed_within_months"] = change.Detection is { } detection
                    ? new JsonArray([.. detection.Noticed.Select(chance => (JsonNode)Numbers.Of(chance))])
                    : null,
            })]),
            ["cases_for_half_width"] = new JsonArray([.. power.CasesNeeded.Select(
                need => (JsonNode)new JsonObject { ["half_width"] = Numbers.Of(need.HalfWidth), ["cases"] = need.Cases })]),
        })]),
    };

    // A terminal has no use for no-break spaces, and some show them as signs.
    private static string Plain(string text) => text.Replace('\u00a0', ' ');
}
