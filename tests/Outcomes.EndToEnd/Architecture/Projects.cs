using System.Xml.Linq;
using Microsoft.CodeAnalysis;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>The projects below <c>src</c>, found and not listed.</summary>
internal static class Projects
{
    /// <summary>The assembly that each project of a folder builds: its <c>AssemblyName</c>, else the project file's own name.</summary>
    public static IReadOnlyList<string> Assemblies(string folder) =>
        [.. Directory.EnumerateFiles(folder, "*.csproj", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(AssemblyName)];

    /// <summary>
    /// What the compiler needs to bind the names in the sources: .NET, and the packages and assemblies built for the tool and these tests.
    /// The project itself is given by its sources, never by its built assembly.
    /// </summary>
    public static IReadOnlyList<MetadataReference> References(string project)
    {
        var own = Assemblies(Repository.InRoot([.. project.Split('/')])).Append("Outcomes.EndToEnd").ToHashSet();
        return [.. Known.Value.Where(one => !own.Contains(one.Name)).Select(one => one.Reference)];
    }

    private static readonly Lazy<IReadOnlyList<(string Name, MetadataReference Reference)>> Known = new(() =>
    {
        string[] framework = ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!).Split(Path.PathSeparator);
        return [.. framework.Concat(Directory.EnumerateFiles(Repository.ToolFolder, "*.dll")).DistinctBy(Path.GetFileName).Where(IsManaged)
            .Select(path => (Path.GetFileNameWithoutExtension(path), (MetadataReference)MetadataReference.CreateFromFile(path)))];
    });

    private static string AssemblyName(string file) =>
        XDocument.Load(file).Descendants("AssemblyName").FirstOrDefault()?.Value ?? Path.GetFileNameWithoutExtension(file);

    private static bool IsManaged(string path)
    {
        using var file = File.OpenRead(path);
        using var image = new System.Reflection.PortableExecutable.PEReader(file);
        try
        {
            return image.HasMetadata;
        }
        catch (BadImageFormatException)
        {
            return false;
        }
    }
}
