using System.Text;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Yaml;
using Outcomes.Records;
using Outcomes.Reporting.Form;

namespace Outcomes.Fuzz;

/// <summary>Every way by which bytes that are not ours come in.</summary>
internal static class Targets
{
    private static readonly string Place = Directory.CreateDirectory(Path.Combine(
        Directory.Exists("/dev/shm") ? "/dev/shm" : Path.GetTempPath(), $"outcomes-fuzz-{Environment.ProcessId}")).FullName;

    private static readonly Lazy<SourceMapping> Small = new(() => Mapping(Encoding.UTF8.GetBytes(SeedTexts.Mapping)));

    private static readonly Lazy<SourceMapping> OfForm =
        new(() => Mapping(Encoding.UTF8.GetBytes(FormMapping.Text(FormPlan.For(FieldDictionary.Shipped)))));

    private static readonly Lazy<Engine> Checked =
        new(() => Engine.Open(FieldDictionary.Shipped, [], new EngineOptions { AsOf = new DateOnly(2026, 3, 31) }));

    private static readonly Target[] All =
    [
        new("csv", Seeds.CsvWithMapping, bytes =>
        {
            var (mapping, csv) = Seeds.Split(bytes);
            Source(csv, Mapping(mapping));
        }),
        new("xlsx", Seeds.Workbooks, Export),
        new("parquet", Seeds.Parquet, Export),
        new("json", Seeds.Json, Export),
        new("yaml", Seeds.Yaml, Definitions),
        new("conditions", Seeds.Conditions, bytes => Condition(Encoding.UTF8.GetString(bytes))),
        new("counts", Seeds.Counts, bytes => CountsFile.Read(Write("counts.csv", bytes), "counts.csv")),
        new("form", Seeds.Form, bytes => Source(bytes, OfForm.Value)),
    ];

    public static IEnumerable<string> Names => All.Select(target => target.Name);

    public static Target? Find(string name) => Array.Find(All, target => target.Name == name);

    private static string Write(string name, byte[] bytes)
    {
        var path = Path.Combine(Place, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    private static SourceMapping Mapping(byte[] yaml) => MappingFile.Read(Write("mapping.yaml", yaml), "mapping.yaml");

    private static void Export(byte[] bytes)
    {
        // What `init --from` does of it, then what `check` does.
        try
        {
            var path = Write("draft", bytes);
            foreach (var sheet in ExportSample.Sheets(path, "draft").Select(sheet => sheet.Name).DefaultIfEmpty(null))
                ExportSample.Read(path, "draft", 1_000, sheet);
        }
        catch (Failure)
        {
            // Refused there; what check says of it is another question.
        }

        Source(bytes, Small.Value);
    }

    private static void Source(byte[] bytes, SourceMapping mapping)
    {
        var store = Path.Combine(Place, "store");
        try
        {
            var source = Ingest.Read(new SourceRequest("s", 0, Write("source", bytes), "source", mapping),
                FieldDictionary.Shipped, store, 512);
            if (source.Manifest.RowsAreSamples) return;
            var ledger = LedgerKeeper.Keep([source], new Dictionary<(int, int), string>(), DuplicatePolicy.Last, strict: false);
            foreach (var row in Quarantine.Rows(source, 0, ledger)) _ = row.Cells.Length;
        }
        finally
        {
            if (Directory.Exists(store)) Directory.Delete(store, recursive: true);
        }
    }

    // Every kind of definition file: what is wrong as one kind may be right as another.
    private static void Definitions(byte[] bytes)
    {
        var path = Write("definition.yaml", bytes);
        Failure? last = null;
        foreach (var read in (Action[])
        [
            () => PipelineFile.Read(path, new Dictionary<string, string>(), withSources: false),
            () => MappingFile.Read(path, "definition.yaml"),
            () => Check(MeasureFile.Read(YamlFile.ReadPath(path, "definition.yaml"))),
            () => Checked.Value.Check(FlagFile.Read(YamlFile.ReadPath(path, "definition.yaml"))),
            () => RuleFile.Read(YamlFile.ReadPath(path, "definition.yaml")),
            () => DerivedFile.Read(YamlFile.ReadPath(path, "definition.yaml")),
            () => SectionFile.Read(YamlFile.ReadPath(path, "definition.yaml")),
        ])
        {
            try
            {
                read();
            }
            catch (Failure failure)
            {
                last = failure;
            }
        }

        if (last is not null) throw last;
    }

    private static void Check(Measure measure) => Checked.Value.Check([measure], []);

    private static void Condition(string text) => Check(MeasureFile.Read(YamlFile.Read(SeedTexts.Measure("x"), "measure.yaml")) with
    {
        Eligible = text,
        Met = text,
    });
}
