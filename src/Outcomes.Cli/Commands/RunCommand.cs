using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes run</c>: the whole pipeline.</summary>
internal static class RunCommand
{
    public static Command Create()
    {
        var pipeline = PipelineArgument();
        var month = MonthOption();
        var asOf = AsOfOption();
        var source = SourceOption();
        var outFolder = new Option<string>("--out")
        {
            Description = "Output folder; without it outcomes-out/<pipeline>/<month>.",
            HelpName = "DIR"
        };
        var (charts, pdf) = (ChartsOption(), PdfOption());
        var previous = new Option<string[]>("--previous")
        {
            Description = "For a network or the public: folders of earlier reports that were given out, beside those that the record store "
                + "notes and those beside DIR; what they showed stands. none: no earlier one was given out.",
            HelpName = "DIR",
            Arity = ArgumentArity.OneOrMore,
            AllowMultipleArgumentsPerToken = true
        };
        var (noWait, replace) = FolderOptions();
        var command = new Command("run", "Reads the sources of a pipeline and writes its report, charts and tables.")
        {
            pipeline, month, asOf, source, outFolder, charts, pdf, previous, noWait, replace
        };
        command.SetAction(parsed =>
        {
            // What the command line gets wrong is told before any file is looked for.
            var chosen = ReportMonth(parsed.GetValue(month));
            var read = PipelineFile.Read(parsed.GetRequiredValue(pipeline), Replaced(parsed.GetValue(source)));
            var when = AsOf(parsed.GetValue(asOf), read);
            RefuseLater(chosen, when);
            var request = new RunRequest(chosen, when, parsed.GetValue(charts) switch
            {
                "none" => null,
                "all" => Slides.All,
                _ => Slides.Headline,
            })
            {
                Pdf = parsed.GetResult(pdf) is null ? PrintedPages.None
                    : parsed.GetValue(pdf) == "all" ? PrintedPages.All : PrintedPages.Report,
                Previous = [.. parsed.GetValue(previous) ?? []],
                Folder = new(Wait: !parsed.GetValue(noWait), parsed.GetValue(replace)),
            };
            return (int)Execute(read, request, parsed.GetValue(outFolder));
        });
        return command;
    }

    private static Option<string> ChartsOption()
    {
        var option = new Option<string>("--charts")
        {
            Description = "Which charts leave as slides too, as SVG and PNG: those of the headline measures, or all; "
                + "none draws no chart at all.",
            DefaultValueFactory = _ => "headline",
            HelpName = "headline|all|none"
        };
        option.AcceptOnlyFromAmong("headline", "all", "none");
        return option;
    }

    private static Option<string?> PdfOption()
    {
        var option = new Option<string?>("--pdf")
        {
            Description = "Also prints the report to report.pdf, by a browser of the Chromium family that is on this machine; "
                + "all: the appendix too.",
            HelpName = "report|all",
            Arity = ArgumentArity.ZeroOrOne
        };
        option.AcceptOnlyFromAmong("report", "all");
        return option;
    }

    public static Argument<string> PipelineArgument() =>
        new("PIPELINE") { Description = "The pipeline file, such as pipelines/monthly.yaml." };

    public static Option<string> MonthOption() => new("--month")
    {
        Description = "Report month, such as 2026-03; without it the last month that has ended by as_of.",
        HelpName = "YYYY-MM"
    };

    public static Option<string> AsOfOption() => new("--as-of")
    {
        Description = "The date on which the data are looked at; without it the pipeline's, else today.",
        HelpName = "YYYY-MM-DD"
    };

    public static Option<string[]> SourceOption() => new("--source")
    {
        Description = "Reads a named source from another file.",
        HelpName = "NAME=FILE",
        Arity = ArgumentArity.OneOrMore
    };

    /// <summary>How a command meets what stands in its output folder.</summary>
    public static (Option<bool> NoWait, Option<bool> Replace) FolderOptions() => (
        new("--no-wait") { Description = "Ends with code 5 where another run is writing the output folder, instead of waiting for it." },
        new("--replace")
        {
            Description = "Replaces the output folder also where it holds another pipeline's or audience's report, "
                + "or files that were changed "
                + "or added since; they are deleted."
        });

    /// <summary>Where a run writes that is not told where.</summary>
    public static string DefaultFolder(PipelineDefinition pipeline, Month month) =>
        Path.Combine("outcomes-out", pipeline.Name, month.ToString());

    /// <summary>Runs a pipeline and says where to look.</summary>
    private static ExitCode Execute(PipelineDefinition pipeline, RunRequest request, string? outFolder)
    {
        var progress = new Progress(Console.Error, !Console.IsErrorRedirected);
        var shown = outFolder ?? DefaultFolder(pipeline, request.Month ?? Pipeline.LastEnded(request.AsOf));
        var result = Pipeline.Run(pipeline, request, shown, progress);
        var (code, unchanged) = result;
        progress.Done();
        if (unchanged) Console.Error.WriteLine($"{Tool.Name}: nothing has changed since this report was made; it is left as it is");
        if (code == ExitCode.Done)
            Console.Out.WriteLine(Path.Combine(shown, Report.File));
        else
            Console.Error.WriteLine(Encode.Visible(
                $"{Tool.Name}: {result.Why}; no figures were written; {Path.Combine(shown, "tables")} says why, row by row"));
        return code;
    }

    public static Dictionary<string, string> Replaced(string[]? sources)
    {
        var replaced = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var text in sources ?? [])
        {
            var at = text.IndexOf('=', StringComparison.Ordinal);
            if (at <= 0 || at == text.Length - 1)
                throw new Failure(ExitCode.Usage, "--source is written NAME=FILE, such as procedures=export.csv");
            replaced[text[..at]] = text[(at + 1)..];
        }

        return replaced;
    }

    /// <summary>The date the data are looked at: the clock is read here and nowhere else.</summary>
    public static DateOnly AsOf(string? text, PipelineDefinition pipeline) =>
        text is null ? pipeline.AsOf ?? DateOnly.FromDateTime(DateTime.Today)
        : ReportedTime.TryParse(text, out DateOnly date) ? date
        : throw new Failure(ExitCode.Usage, $"--as-of is a date such as 2026-03-31, in the years {ReportedTime.Years}");

    public static Month? ReportMonth(string? text) =>
        text is null ? null
        : ReportedTime.TryParse(text, out Month month) ? month
        : throw new Failure(ExitCode.Usage, $"--month is a month such as 2026-03, in the years {ReportedTime.Years}");

    /// <summary>Refuses a report month that has not begun: it can hold no procedure.</summary>
    public static void RefuseLater(Month? month, DateOnly asOf)
    {
        if (month > Month.Of(asOf))
            throw new Failure(ExitCode.Usage, string.Create(CultureInfo.InvariantCulture,
                $"--month {month} begins after {asOf:yyyy-MM-dd}, the date on which the data are looked at; "
                    + $"name an earlier month, or --as-of"));
    }
}
