namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>A folder of its own for one test, so that no test writes into the project or sees another's record store.</summary>
internal sealed class Workspace : IDisposable
{
    public Workspace() => Folder = Directory.CreateTempSubdirectory("outcomes-test-").FullName;

    public string Folder { get; }

    public string this[params string[] parts] => Path.Combine([Folder, .. parts]);

    /// <summary>The project's pipelines and the data they read, side by side as in the project.</summary>
    public static Workspace WithShippedPipelines()
    {
        var workspace = new Workspace();
        foreach (var name in new[] { "pipelines", "synthetic-data" })
            CopyFolder(Repository.InRoot(name), workspace[name]);
        return workspace;
    }

    public string Write(string name, string text)
    {
        var path = this[name];
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    public string Read(params string[] parts) => File.ReadAllText(this[parts]);

    /// <summary>Every file under <paramref name="folder"/> by its path from there, in ordinal order.</summary>
    public static string[] FilesIn(string folder) =>
        [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(folder, file))
            .Order(StringComparer.Ordinal)];

    public static void CopyFolder(string from, string to)
    {
        foreach (var file in FilesIn(from).Where(file => !file.Contains(".outcomes", StringComparison.Ordinal)))
        {
            var target = Path.Combine(to, file);
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(Path.Combine(from, file), target);
        }
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
