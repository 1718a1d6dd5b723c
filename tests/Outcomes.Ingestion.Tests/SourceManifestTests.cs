using System.Text.Json.Nodes;
using Outcomes.Ingestion;

namespace Outcomes.Tests.Ingestion;

/// <summary>A manifest comes back as it was written, or not at all.</summary>
public sealed class SourceManifestTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory().FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_manifest_is_read_as_it_was_written()
    {
        Made().Write(_folder);
        var read = SourceManifest.TryRead(_folder)!;
        Assert.Equal(("ab", 7, ';', true), (read.Sha256, read.Rows, read.Separator, read.RowsAreSamples));
        Assert.Equal(["Ref", "Spalte ü"], read.Headings);
        Assert.Equal([0, 2], read.Checked);
        Assert.Equal(["", "name date"], read.CheckedRules);
    }

    [Theory]
    [InlineData("length")]
    [InlineData("mapping")]
    [InlineData("files")]
    [InlineData("checked_rules")]
    public void A_manifest_without_a_part_or_with_none_in_its_place_is_not_read(string part)
    {
        Made().Write(_folder);
        var path = Path.Combine(_folder, SourceManifest.FileName);
        var whole = JsonNode.Parse(File.ReadAllText(path))!.AsObject();
        whole[part] = null;
        File.WriteAllText(path, whole.ToJsonString());
        Assert.Null(SourceManifest.TryRead(_folder));
        Assert.True(whole.Remove(part));
        File.WriteAllText(path, whole.ToJsonString());
        Assert.Null(SourceManifest.TryRead(_folder));
    }

    [Fact]
    public void Half_a_manifest_and_none_are_not_read()
    {
        Assert.Null(SourceManifest.TryRead(_folder));
        File.WriteAllText(Path.Combine(_folder, SourceManifest.FileName), """{"length": 1, "sha""");
        Assert.Null(SourceManifest.TryRead(_folder));
    }

    private static SourceManifest Made() => new()
    {
        Length = 12,
        Sha256 = "ab",
        Rows = 7,
        BlankRows = 1,
        Separator = ';',
        RowsAreAttempts = false,
        RowsAreSamples = true,
        Headings = ["Ref", "Spalte ü"],
        Fields = ["record_id"],
        AttemptFields = [],
        Asked = [],
        Checked = [0, 2],
        CheckedRules = ["", "name date"],
        Files = ["rows.parquet"],
    };
}
