from django.db import migrations

ROLES = ("guest", "picker", "maker", "keeper")


def make_roles(apps, schema_editor):
    group = apps.get_model("auth", "Group")
    for name in ROLES:
        group.objects.get_or_create(name=name)


class Migration(migrations.Migration):
    dependencies = [("inventory", "0001_initial"), ("auth", "0012_alter_user_first_name_max_length")]

    operations = [migrations.RunPython(make_roles, migrations.RunPython.noop)]
