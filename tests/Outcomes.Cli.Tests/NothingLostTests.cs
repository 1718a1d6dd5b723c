using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using CsCheck;
using Outcomes.Cli;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>Laws of whole runs on random dirty files: whatever the rows, none is lost and none counts twice.</summary>
public sealed partial class NothingLostTests
{
    private const string Heading = "id,day,place,before,lowest,attempts,complications\n";

    private static readonly Gen<string> Day = Gen.Frequency(
        (12, Gen.Int[1, 28].Select(day => string.Create(CultureInfo.InvariantCulture, $"2026-0{1 + (day % 2)}-{day:00}"))),
        (1, Of("31 of January", "", "2026-02-30", "2027-01-01")));

    private static readonly Gen<string> Percent = Gen.Frequency(
        (8, Gen.Int[60, 100].Select(value => value.ToString(CultureInfo.InvariantCulture))), (2, Of("", "x", "140", "=1+1", "-")));

    private static readonly Gen<string> Place = Of("icu", "ed", "ward", "", "attic", "\"i\ncu\"", "\"ed\"");

    // A row without its key and line end; now and then a cell is lacking.
    private static readonly Gen<string> Rest = Gen.Select(Day, Place, Percent, Percent, Of("1", "2", "3", "", "many"),
        Of("none", "aspiration;dental", "none;dental", "", "other thing"), Gen.Int[0, 15],
        (day, place, before, lowest, attempts, complications, ragged) => ragged == 0
            ? $"{day},{place},{before}"
            : $"{day},{place},{before},{lowest},{attempts},{complications}");

    private static readonly Gen<string> Blank = Of("", "", "", "\n", ",,,,,,\n");

    // Few keys, so that rows correct each other; some have none, but no row is blank altogether.
    private static readonly Gen<string[]> Repeating = Gen.Select(Of("R1", "R2", "R3", "R4", "R5", ""), Rest, Blank,
        (key, rest, blank) => $"{(rest.All(c => c == ',') ? "R6" : key)},{rest}\n{blank}").Array[0, 25];

    private static readonly Gen<string[]> Distinct = Rest.Array[2, 25].Select(rows => rows.Select((rest, i) => $"R{i},{rest}\n").ToArray());

    [Fact]
    public void A_file_cut_in_two_gives_the_same_figures() =>
        Gen.Select(Repeating, Gen.Int[0, 25], Of("last", "first")).Sample((rows, cut, policy) =>
        {
            using var work = new Workbench(policy);
            var whole = work.Run(string.Concat(rows));
            var halves = work.Run(string.Concat(rows.Take(cut)), string.Concat(rows.Skip(cut)));
            Assert.Equal(whole, halves);
        }, iter: 25, threads: 1);

    [Fact]
    public void Rows_in_any_order_give_the_same_figures_where_no_key_repeats() =>
        Gen.Select(Distinct, Gen.Int[1, 1000], Of("last", "first")).Sample((rows, seed, policy) =>
        {
            using var work = new Workbench(policy);
            var shuffled = rows.ToArray();
            new Random(seed).Shuffle(shuffled);
            Assert.Equal(work.Run(string.Concat(rows)), work.Run(string.Concat(shuffled)));
        }, iter: 20, threads: 1);

    [Fact]
    public void Every_row_of_a_dirty_file_has_one_fate() =>
        Gen.Select(Repeating, Of("last", "first")).Sample((rows, policy) =>
        {
            using var work = new Workbench(policy);
            var run = work.Run(string.Concat(rows));
            Assert.Equal(rows.Length, run.Accepted + run.Superseded + run.Quarantined);
            Assert.Equal(rows.Length, File.ReadLines(work.Output("tables", "ledger.csv")).Count() - 1);
            Assert.Equal(run.Accepted, rows.Select(row => row.Split(',')[0]).Where(key => key.Length > 0).Distinct()
                .Count(key => work.Accepted(key) == 1));
        }, iter: 20, threads: 1);

    [Fact]
    public void A_quarantine_file_fed_back_as_it_is_changes_no_figure_and_comes_out_again() =>
        Gen.Select(Repeating, Of("last", "first")).Sample((rows, policy) =>
        {
            using var work = new Workbench(policy);
            var before = work.Run(string.Concat(rows));
            if (before.Quarantined == 0) return; // such a file has no columns of the export's to come back with
            var quarantine = File.ReadAllText(work.Output("tables", "quarantine.csv"));
            var after = work.RunMended(quarantine);
            Assert.Equal((before.Counts, before.Accepted, before.Quarantined), (after.Counts, after.Accepted, after.Quarantined));
            var again = File.ReadAllText(work.Output("tables", "quarantine.csv"));
            Assert.Equal(Reasons().Replace(quarantine, "$1,,"), Reasons().Replace(again, "$1,,"));
            // A row that lacked cells comes back with blanks in their places, so that its cells may give further reasons; none goes.
            foreach (var (held, back) in Reasons().Matches(quarantine).Zip(Reasons().Matches(again)))
                Assert.Subset(back.Groups[2].Value.Split(' ').ToHashSet(), held.Groups[2].Value.Split(' ').ToHashSet());
        }, iter: 20, threads: 1);

    [GeneratedRegex("^(f0\\.csv,[0-9]+),([^,]*),", RegexOptions.Multiline)]
    private static partial Regex Reasons();

    private static Gen<string> Of(params string[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    /// <summary>What a run amounts to: its table of counts and the fates of all rows.</summary>
    private sealed record Outcome(string Counts, int Accepted, int Superseded, int Quarantined);

    /// <summary>A pipeline in a folder of its own, run in this process.</summary>
    private sealed class Workbench : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("outcomes-test-").FullName;
        private readonly string _policy;

        public Workbench(string policy)
        {
            _policy = policy;
            Write("mapping.yaml", """
                columns:
                  record_id: {column: id}
                  event_date: {column: day, date: yyyy-MM-dd}
                  location_type: {column: place}
                  spo2_pre: {column: before}
                  spo2_min: {column: lowest}
                  attempts_total: {column: attempts}
                  complication: {column: complications, split: ";"}
                """);
            Write("below.yaml", Measure("below", "spo2_pre >= 90", "spo2_min < 90"));
            Write("calm.yaml", Measure("calm", "attempts_total >= 1", "complication_none"));
        }

        public string Output(params string[] parts) => Path.Combine([_folder, "out", .. parts]);

        public Outcome Run(params string[] files)
        {
            for (var i = 0; i < files.Length; i++) Write($"f{i}.csv", Heading + files[i]);
            return Run(string.Concat(
                files.Select((_, i) => $"  s{i}: {{file: f{i}.csv, mapping: mapping.yaml, repeated_keys: expected}}\n")));
        }

        public Outcome RunMended(string quarantine)
        {
            Write("mended.csv", quarantine);
            return Run("  s0: {file: f0.csv, mapping: mapping.yaml, repeated_keys: expected, mended: mended.csv}\n");
        }

        /// <summary>How often a key was accepted in the last run.</summary>
        public int Accepted(string key) =>
            File.ReadLines(Output("tables", "ledger.csv")).Count(line => line.Contains($",{key},accepted,", StringComparison.Ordinal));

        public void Dispose() => Directory.Delete(_folder, recursive: true);

        private Outcome Run(string sources)
        {
            Write("pipeline.yaml", $"""
                name: laws
                as_of: 2026-03-01
                sources:
                {sources}measures: [below.yaml, calm.yaml]
                strata: [location_type]
                duplicates: {_policy}
                tolerance: 1
                data: none

                """);
            var pipeline = PipelineFile.Read(Path.Combine(_folder, "pipeline.yaml"), new Dictionary<string, string>());
            var (code, _) = Pipeline.Run(pipeline, new RunRequest(null, pipeline.AsOf!.Value, Charts: null), Output(),
                new Progress(TextWriter.Null, false));
            Assert.Equal(ExitCode.Done, code);
            var total = JsonNode.Parse(File.ReadAllText(Output("run.json")))!["reconciliation"]!.AsArray()[^1]!;
            int Sum(string fate) => total[fate]!.GetValue<int>();
            Assert.Equal(0, Sum("withdrawn"));
            return new Outcome(File.ReadAllText(Output("tables", "counts.csv")), Sum("accepted"), Sum("superseded"), Sum("quarantined"));
        }

        private static string Measure(string id, string eligible, string met) =>
            $"id: {id}\ntitle: Measure {id}\nkind: proportion\neligible: {eligible}\nmet: {met}\ndirection: none\nwhy: For this test.\n"
                + "source: Invented for this test.\n";

        private void Write(string name, string text) => File.WriteAllText(Path.Combine(_folder, name), text);
    }
}
