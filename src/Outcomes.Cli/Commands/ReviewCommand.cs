using System.CommandLine;
using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Cases;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes review</c>: one case of the report month, on the terminal or as a page.</summary>
internal static class ReviewCommand
{
    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var id = new Option<string>("--case") { Description = "The case id, as cases.html prints it.", HelpName = "ID", Required = true };
        var month = RunCommand.MonthOption();
        var asOf = RunCommand.AsOfOption();
        var source = RunCommand.SourceOption();
        var outFile = new Option<string>("--out")
        {
            Description = "Writes the case's page to this new file instead.",
            HelpName = "FILE.html"
        };
        var command = new Command("review", "Prints one review case of the month; for the department alone.")
        {
            pipeline, id, month, asOf, source, outFile
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetRequiredValue(id),
            RunCommand.ReportMonth(parsed.GetValue(month)), parsed.GetValue(asOf), parsed.GetValue(source), parsed.GetValue(outFile)));
        return command;
    }

    private static ExitCode Execute(string path, string id, Month? month, string? asOf, string[]? replaced, string? outFile)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        var when = RunCommand.AsOf(asOf, pipeline);
        RunCommand.RefuseLater(month, when);
        using var records = CheckedRecords.OpenForDepartment(pipeline, when);
        // The month's pack as a run into the usual folder makes it, which carries records that came late; then the month by itself, where a
        // late record is at home.
        var of = month ?? Pipeline.LastEnded(when);
        var plan = records.Defined.Plan(of);
        var packs = new[] { EarlierPacks.Beside(RunCommand.DefaultFolder(pipeline, of), pipeline.Name, of), EarlierPacks.None }
            .DistinctBy(packs => packs.Keys.Length)
            .Select(packs => ReviewCases.Select(plan, records, packs).Pack).ToArray();
        string[] ids = [.. packs.SelectMany(pack => pack.Cases).Where(each => each.HasPage).Select(each => each.Id).Distinct()];
        var (pack, found) = packs.SelectMany(pack => pack.Cases.Where(each => each.HasPage).Select(each => (Pack: pack, Case: each)))
            .FirstOrDefault(each => each.Case.Id.Equals(id, StringComparison.OrdinalIgnoreCase));
        if (found is null)
            throw new Failure(ExitCode.Usage,
                $"{of} has no case `{id}` with a page{(ids.Length == 0 ? "" : $"; it has {string.Join(", ", ids)}")}; "
                    + "another month is named with --month, also for a record that came late");
        if (outFile is null) Print(Console.Out, pack, CaseView.Write(found, pack));
        else NewFile.Write([new("--out", outFile, CasesPage.Utf8(pack, found))]);
        return ExitCode.Done;
    }

    private static void Print(TextWriter output, CasePack pack, CaseView each)
    {
        Line($"Confidential: review case of the department, do not pass on{(pack.Invented ? " (invented data)" : "")}");
        Line($"Case {each.Id}, {Wording.Name(pack.Month)}. {CaseWording.Name(each.Kind)}: {CaseWording.Handling(each.Kind)}");
        Section("What fired",
            each.Flags.Select(flag => $"{flag.Title}: {string.Join("; ", flag.Values.Select(fact => $"{fact.Title} {fact.Value}"))}")
                .DefaultIfEmpty("nothing; drawn at random"));
        if (each.Earlier is { } earlier) Line("  " + CaseWording.Earlier(earlier));
        foreach (var group in each.Facts) Section(group.Title, group.Facts.Select(Fact));
        Section("Plan ladder", each.Plans.Select(Fact));
        Section("Attempts", each.Attempts.Select(attempt => string.Join(", ",
            new[]
            {
                $"{attempt.Number}. plan {attempt.Plan}", attempt.Means, attempt.View, attempt.Operator, attempt.Outcome,
                attempt.Lowest, attempt.Duration
            }.Where(text => text.Length > 0))));
        Section("Recorded times, minutes from induction", each.Moments.Select(
            moment => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{moment.Seconds / 60:0.0}  {moment.What}")));
        Section("What went well", each.Standards.WentWell.Select(CaseWording.Title).Concat(CaseWording.MoreMet(each.Standards)));
        Section("What the agreed standard expected", each.Standards.Expected.Concat(each.Standards.AlsoNotMet)
            .Concat(each.Standards.NotRecorded).Select(CaseWording.Title));
        Line("");
        Line(Tool.Caution);

        void Section(string title, IEnumerable<string> lines)
        {
            var all = lines.ToArray();
            if (all.Length == 0) return;
            Line("");
            Line(title);
            foreach (var line in all) Line("  " + line);
        }

        void Line(string text) => output.WriteLine(Encode.Visible(text.Replace('\u00a0', ' ')));
    }

    private static string Fact(CaseFact fact) => $"{fact.Title}: {fact.Value}";
}
