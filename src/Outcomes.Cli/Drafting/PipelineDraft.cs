using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Places;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>A pipeline folder drafted from exports: nothing of their rows goes into it but code words.</summary>
public static class PipelineDraft
{
    private static readonly string[] Strata = ["location_type", "hour_band", "urgency"];

    /// <summary>Writes the folder and says on <paramref name="output"/> what is open.</summary>
    /// <param name="folder">An empty folder.</param>
    /// <param name="exports">Paths of the exports: one of records and, where there is one, one of attempts.</param>
    /// <param name="sheet">The sheet of a workbook; null leaves the choice.</param>
    /// <param name="output">Where the summary goes.</param>
    /// <exception cref="Failure">An export cannot be read (exit 4), or they are no records and attempts (exit 2).</exception>
    public static void Write(string folder, IReadOnlyList<string> exports, string? sheet, TextWriter output)
    {
        var (dictionary, vocabulary) = (FieldDictionary.Shipped, Vocabulary.Shipped);
        var samples = exports.SelectMany(path => DraftSource.Of(path, sheet, vocabulary)).OrderBy(export => export.Attempts).ToList();
        if (samples.Count(export => !export.Attempts) != 1 || samples.Count > 2)
            throw new Failure(ExitCode.Usage, "name one export whose rows are procedures with --from and, "
                + "if attempts are a file of their own, that file with another --from");
        var questions = new List<Question>();
        var drafts = samples.Select(export => MappingDraft.Of(export, export.Attempts ? "attempts-mapping.yaml" : "mapping.yaml", questions,
            dictionary, vocabulary)).ToList();
        var pipeline = Pipeline(folder, [.. samples.Select(export => (export.Path, export.Attempts))], drafts, questions);
        var list = QuestionList(questions, drafts);
        NewFolder.Write(folder, into =>
        {
            foreach (var draft in drafts.Select(draft => draft.Text).Append(pipeline))
                File.WriteAllText(Path.Combine(into, draft.File), draft.ToString());
            File.WriteAllText(Path.Combine(into, "questions.md"), list);
            CaseSalt.Make(into);
            Launchers.Write(into);
        });
        output.Write(list);
        output.WriteLine();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{folder} holds pipeline.yaml, {string.Join(", ", drafts.Select(draft => draft.Text.File))}, questions.md, "
                + $"report.cmd and report.sh; the export stays where it is."));
    }

    private static DraftText Pipeline(
        string folder, ImmutableArray<(string Path, bool Attempts)> exports, List<MappingDraft> drafts, List<Question> questions)
    {
        var text = new DraftText("pipeline.yaml", questions);
        bool Has(string field) => drafts[0].Mapped.Any(mapped => mapped.Name == field);
        var name = new string([.. Path.GetFileName(Path.GetFullPath(folder).TrimEnd(Path.DirectorySeparatorChar))
            .Where(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_')]);
        text.Line("# A department's monthly report. Measures and rules come with the tool; this folder holds only what is yours.");
        text.Line($"name: {(name.Length == 0 ? "our-department" : name)}");
        text.Line("# as_of: 2026-03-31          # the date the data are looked at; without it, today");
        text.Line("sources:");
        foreach (var (path, attempts) in exports)
            text.Line($"  {(attempts ? "attempts" : "procedures")}: "
                + $"{{file: {DraftText.Quoted(Path.GetRelativePath(Path.GetFullPath(folder), Path.GetFullPath(path)).Replace('\\', '/'))}, "
                + $"mapping: {(attempts ? "attempts-mapping.yaml" : "mapping.yaml")}}}");
        text.Line("measures: [shipped]          # add paths of your own measure files");
        text.Line($"strata: [{string.Join(", ", Strata.Where(Has))}]");
        text.Line("headline: [first_pass, spo2_below_90]");
        text.Line("assume:                      # true of every row of the export; printed beside each figure that rests on it");
        bool Lacks(string field) => !Has(field) && !drafts[0].Asked.Contains(field);
        if (Lacks("urgency"))
            text.Ask("  ",
                "the export does not say how urgent a procedure was. Was every one an emergency, none planned?", "urgency: emergency");
        if (Lacks("age_years") && Lacks("age_band"))
            text.Ask("  ", "the export gives no age. Is everybody in it an adult?", "age_band: adult");
        if (Lacks("cardiac_arrest_before"))
            text.Ask("  ", "the export does not say who was in cardiac arrest beforehand. Was nobody?", "cardiac_arrest_before: no");
        text.Line("duplicates: last             # the latest row with a key counts: corrections replace what they correct");
        text.Line("tolerance: 0.05              # more quarantined rows than this share: no report, only the reasons");
        text.Line("audience: department");
        return text;
    }

    private static string QuestionList(List<Question> questions, List<MappingDraft> drafts)
    {
        var lines = new List<string> { "# Before the first run", "" };
        foreach (var draft in drafts)
            foreach (var column in draft.Refused)
                lines.Add(string.Create(CultureInfo.InvariantCulture, $"- Take column {column.Column}, {DraftText.Quoted(column.Heading)}, "
                    + $"out of the export: {column.Reason}. It is not mapped and must not be."));
        if (drafts.Exists(draft => draft.Refused.Length > 0))
            lines.AddRange(["", "The export is refused as long as such a column is in it. Export it again without, or: `outcomes strip "
                + "EXPORT --out COPY.csv` writes a copy without those that refuse it; then draft again from the copy.", ""]);
        lines.Add(questions.Count == 0 ? "No question is open." : "Each question stands where its answer belongs, as `# QUESTION n`: "
            + "remove the # of the line below it that is right, or write your own. `outcomes describe FIELD` says what a field means.");
        lines.Add("");
        lines.AddRange(questions.Select(question => string.Create(CultureInfo.InvariantCulture,
            $"{question.Number}. `{question.File}` line {question.Line}: {question.Text}")));
        foreach (var draft in drafts.Where(draft => draft.NotMapped.Length > 0))
            lines.AddRange(["", $"Not mapped, for want of a field (`{draft.Text.File}` says what was "
                + $"considered): {string.Join(", ", draft.NotMapped.Select(DraftText.Quoted))}."]);
        return string.Join('\n', lines) + "\n";
    }
}
