using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>A reference as it stands in a built assembly.</summary>
internal readonly record struct Reference(string From, string To);

/// <summary>Reads references from assembly files, without loading them.</summary>
internal static class References
{
    /// <summary>Every reference of the project's own assemblies in <paramref name="folder"/>, to what .NET itself does not bring.</summary>
    public static IReadOnlyList<Reference> InFolder(string folder) =>
        [.. Files(folder).SelectMany(Of)];

    /// <summary>The names of the project's own assemblies in <paramref name="folder"/>.</summary>
    public static IReadOnlyList<string> AssembliesIn(string folder) =>
        [.. Files(folder).Select(path => Path.GetFileNameWithoutExtension(path))];

    private static IEnumerable<string> Files(string folder) =>
        Directory.GetFiles(folder, "*.dll").Where(IsOurs).Order(StringComparer.Ordinal);

    public static IEnumerable<Reference> Of(string path)
    {
        using var file = File.OpenRead(path);
        using var image = new PEReader(file);
        var metadata = image.GetMetadataReader();
        var from = metadata.GetString(metadata.GetAssemblyDefinition().Name);
        return [.. metadata.AssemblyReferences
            .Select(handle => metadata.GetString(metadata.GetAssemblyReference(handle).Name))
            .Where(name => !IsFramework(name))
            .Select(name => new Reference(from, name))];
    }

    private static bool IsOurs(string path)
    {
        var name = Path.GetFileNameWithoutExtension(path);
        return name == "outcomes" || name.StartsWith("Outcomes.", StringComparison.Ordinal);
    }

    // A name says nothing (System.CommandLine is a package): what lies in the runtime's own folder is the framework.
    private static bool IsFramework(string name) =>
        File.Exists(Path.Combine(Path.GetDirectoryName(typeof(object).Assembly.Location)!, name + ".dll"));
}
